import type { Session } from "@ledgerboard/contracts/identity";
import request, { type Response } from "supertest";
import { expect } from "vitest";
import type { Harness } from "./harness.ts";

/** A harness started with these settings believes the addresses visitors say they come from. */
export const VISITOR_SETTINGS = { TRUST_PROXY: "127.0.0.1" };

let visitors = 0;

/** Somebody's browser: an address of its own, as tries are limited per address, and its own cookie once signed in. */
export interface Visitor {
  session: Session | null;
  /** The Set-Cookie header of the latest answer that set one. */
  setCookie: string;
  send(
    method: "get" | "post" | "patch" | "delete",
    path: string,
    body?: object,
    headers?: object,
  ): Promise<Response>;
  post(path: string, body: object, headers?: object): Promise<Response>;
  get(path: string): Promise<Response>;
}

export function visitor(h: Harness): Visitor {
  visitors += 1;
  const address = `10.${visitors >> 16}.${(visitors >> 8) & 255}.${visitors & 255}`;
  let cookie = "";
  const self: Visitor = {
    session: null,
    setCookie: "",
    async send(method, path, body, headers = {}) {
      let call = request(h.app.server)[method](`/api/v1${path}`).set("X-Forwarded-For", address);
      if (cookie) call = call.set("Cookie", cookie);
      if (self.session && method !== "get") call = call.set("X-CSRF-Token", self.session.csrfToken);
      if (method === "post") call = call.set("Idempotency-Key", crypto.randomUUID());
      const response = await (body ? call.set({ ...headers }).send(body) : call.set({ ...headers }));
      const set = response.headers["set-cookie"]?.[0];
      if (set) {
        self.setCookie = set;
        cookie = set.split(";")[0] ?? "";
      }
      if (response.status === 201 && response.body.csrfToken) self.session = response.body;
      return response;
    },
    post: (path, body, headers) => self.send("post", path, body, headers),
    get: (path) => self.send("get", path),
  };
  return self;
}

export const PASSWORD = "seven boards of cedar";
let owners = 0;

/** Opens a company; answers its signed-in owner with the mail address used. */
export async function newOwner(
  h: Harness,
  given: { email?: string; companyName?: string; password?: string } = {},
): Promise<Visitor & { email: string; companyId: string; memberId: string }> {
  owners += 1;
  const email = given.email ?? `owner${owners}@heron.example`;
  const person = visitor(h);
  const answer = await person.post("/sign-up", {
    companyName: given.companyName ?? `Company ${owners}`,
    state: "MD",
    name: "Olive Owner",
    email,
    password: given.password ?? PASSWORD,
  });
  expect(answer.status, JSON.stringify(answer.body)).toBe(201);
  return Object.assign(person, {
    email,
    companyId: answer.body.company.id as string,
    memberId: answer.body.member.id as string,
  });
}

/** The key at the end of the newest link mailed to an address, read from the outbox table. */
export async function mailedKey(h: Harness, to: string, place: "reset" | "join"): Promise<string> {
  const { rows } = await h.admin.query(
    "SELECT body FROM outbox_messages WHERE recipient = $1 AND body LIKE $2 ORDER BY id DESC LIMIT 1",
    [to, `%/${place}/%`],
  );
  const key = new RegExp(`/${place}/([A-Za-z0-9_-]{43})`).exec(rows[0]?.body ?? "")?.[1];
  expect(key, `a link to /${place} mailed to ${to}`).toBeDefined();
  return key as string;
}
