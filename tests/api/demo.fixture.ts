import { DEMO_PASSWORD, type DemoLogin, seedDemo } from "@ledgerboard/api/demo/seed";
import type { Role } from "@ledgerboard/contracts";
import { expect } from "vitest";
import { type Client, type Harness, startHarness } from "../support/harness.ts";

/** Inventing takes ten seconds and more where other work is going on. */
export const SLOW = 120_000;

export interface Company {
  id: string;
  slug: string;
  timezone: string;
}

export interface Demo {
  h: Harness;
  companies: Company[];
  lines: string[];
  logins: DemoLogin[];
  today(company: Company): string;
  all<Row extends object>(text: string, values?: unknown[]): Promise<Row[]>;
  signInAs(slug: string, role: Role): Promise<Client>;
  close(): Promise<void>;
}

/** Invents the demo in a database of its own, on the day of an instant or today. */
export async function invent(at?: string): Promise<Demo> {
  const h = await startHarness();
  if (at) h.setNow(at);
  const now = h.services.now();
  h.services.now = () => now;
  const lines: string[] = [];
  const { logins, password } = await seedDemo(h.services, { onProgress: (line) => lines.push(line) });
  expect(password).toBe(DEMO_PASSWORD);
  const { rows } = await h.admin.query<Company>("SELECT id, slug, timezone FROM companies ORDER BY slug");
  const day = (timezone: string) =>
    new Intl.DateTimeFormat("en-CA", { timeZone: timezone, dateStyle: "short" }).format(now);
  const all = async <Row extends object>(text: string, values: unknown[] = []): Promise<Row[]> =>
    (await h.admin.query<Row>(text, values)).rows;
  return {
    h,
    companies: rows,
    lines,
    logins,
    today: ({ timezone }) => day(timezone),
    all,
    async signInAs(slug, role) {
      const [row] = await all<{ company_id: string; id: string }>(
        "SELECT m.company_id, m.id FROM members m JOIN companies c USING (company_id) WHERE c.slug = $1 AND $2 = ANY (m.roles) ORDER BY m.email LIMIT 1",
        [slug, role],
      );
      if (!row) throw new Error(`Nobody is ${role} in ${slug}.`);
      return h.signIn(row.company_id, row.id, role);
    },
    close: () => h.close(),
  };
}
