import { randomBytes } from "node:crypto";

/**
 * A UUID version 7 (RFC 9562, section 5.7): milliseconds since 1970, then 74 random bits. For the few rows whose id
 * must be known before they are written; all others get theirs from the database.
 */
export function newId(now: Date): string {
  const bytes = randomBytes(16);
  bytes.writeUIntBE(now.getTime(), 0, 6);
  bytes.writeUInt8(0x70 | (bytes.readUInt8(6) & 0x0f), 6);
  bytes.writeUInt8(0x80 | (bytes.readUInt8(8) & 0x3f), 8);
  return bytes.toString("hex").replace(/^(.{8})(.{4})(.{4})(.{4})(.{12})$/, "$1-$2-$3-$4-$5");
}
