import { createHash, randomBytes } from "node:crypto";
import type { FastifyReply, FastifyRequest } from "fastify";
import type { Config } from "../config.ts";

/** `__Host-` binds the cookie to this host and path over https; plain http (local use) cannot carry that prefix. */
export const COOKIE = "ledgerboard_session";
const SECURE_COOKIE = `__Host-${COOKIE}`;
export const SESSION_DAYS = 14;

/** 256 random bits, as links and cookies carry them. */
export const newToken = (): string => randomBytes(32).toString("base64url");
/** What is kept of a token: a leak of the database opens no door. */
export const hashToken = (token: string): string => createHash("sha256").update(token).digest("hex");

/** Hash of the session cookie, or null when there is none worth looking up. */
export function sessionHash(request: FastifyRequest): string | null {
  const token = request.cookies[SECURE_COOKIE] ?? request.cookies[COOKIE];
  return token && /^[A-Za-z0-9_-]{43}$/.test(token) ? hashToken(token) : null;
}

const secure = (config: Config): boolean => config.PUBLIC_URL.startsWith("https://");
const options = (config: Config) =>
  ({ path: "/", httpOnly: true, sameSite: "lax", secure: secure(config) }) as const;

export function setSessionCookie(reply: FastifyReply, config: Config, token: string): void {
  reply.setCookie(secure(config) ? SECURE_COOKIE : COOKIE, token, {
    ...options(config),
    maxAge: SESSION_DAYS * 86_400,
  });
}

export function clearSessionCookie(reply: FastifyReply, config: Config): void {
  reply.clearCookie(secure(config) ? SECURE_COOKIE : COOKIE, options(config));
}
