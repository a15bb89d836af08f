import { hash, type Options, verify } from "@node-rs/argon2";

/**
 * Argon2id with 19 MiB, two passes and one lane: the first setting recommended by the OWASP Password Storage Cheat
 * Sheet, section Argon2id (https://cheatsheetseries.owasp.org/cheatsheets/Password_Storage_Cheat_Sheet.html).
 */
const ARGON2ID = 2;
const SETTINGS: Options = { algorithm: ARGON2ID, memoryCost: 19_456, timeCost: 2, parallelism: 1 };

/** The hash to keep of a password, with a salt of its own. Takes tens of milliseconds, off the main thread. */
export const hashPassword = (password: string): Promise<string> => hash(password, SETTINGS);

/** Whether the password belongs to the hash. Anything that is no such hash fits no password. */
export async function passwordFits(passwordHash: string, password: string): Promise<boolean> {
  try {
    return await verify(passwordHash, password);
  } catch {
    return false;
  }
}

let nobody: Promise<string> | undefined;

/** As much work as a real check, for an address that nobody has: the time taken tells nothing. Always false. */
export async function nobodysPassword(password: string): Promise<false> {
  nobody ??= hashPassword(crypto.randomUUID());
  await passwordFits(await nobody, password);
  return false;
}
