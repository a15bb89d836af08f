import type { Role } from "@ledgerboard/contracts";
import { addDays } from "@ledgerboard/contracts/dates";
import { localDay } from "../days.ts";
import { hashPassword } from "../features/identity/passwords.ts";
import { refreshJob } from "../features/jobs/facts.ts";
import type { Services } from "../services.ts";
import { OPENED_DAYS_AGO } from "./books.ts";
import { type Cast, HERON_POINT, TWO_RIDGE } from "./cast.ts";
import { membersOf, openCompany } from "./company.ts";
import { tellHeronPoint } from "./heron-point.ts";
import { CHESAPEAKE, EAST_BAY, type Town } from "./places.ts";
import { idAt, seeded } from "./random.ts";
import { tellTwoRidge } from "./two-ridge.ts";
import { giveNumbers, type World } from "./world.ts";

/** Everybody in the demo signs in with it. It is printed, so it guards nothing: never seed a database that holds real people. */
export const DEMO_PASSWORD = "heron-and-ridge-2026";

export interface DemoLogin {
  company: string;
  role: Role;
  name: string;
  email: string;
}

interface Play {
  cast: Cast;
  towns: readonly Town[];
  tell: (world: World) => void;
}

const PLAYS: readonly Play[] = [
  { cast: HERON_POINT, towns: CHESAPEAKE, tell: tellHeronPoint },
  { cast: TWO_RIDGE, towns: EAST_BAY, tell: tellTwoRidge },
];

/** Whether a company of the demo is in the database already. */
export async function demoIsThere({ database }: Pick<Services, "database">): Promise<boolean> {
  for (const { cast } of PLAYS) {
    if ((await database.findCompanies("slug", cast.slug)).length > 0) return true;
  }
  return false;
}

/**
 * Invents two companies with two years of history, everything dated from today (of `services.now()`, in each company's
 * time zone), so that the demo never ages. Given the same day, names, titles, quantities, prices, numbers and dates are
 * the same at every run. Nothing on record lies today or later, only visits, promises and bookings do. Each company is
 * written whole or not at all. Throws an Error where one of them is there already.
 */
export async function seedDemo(
  services: Services,
  options: { onProgress?: (line: string) => void } = {},
): Promise<{ password: string; logins: DemoLogin[] }> {
  const say = options.onProgress ?? (() => undefined);
  if (await demoIsThere(services)) {
    throw new Error("The demo is in this database already. Start with an empty one to invent it anew.");
  }
  say("Inventing two companies…");
  const passwordHash = await hashPassword(DEMO_PASSWORD);
  const logins: DemoLogin[] = [];
  for (const play of PLAYS) logins.push(...(await perform(services, play, passwordHash, say)));
  return { password: DEMO_PASSWORD, logins };
}

async function perform(
  services: Services,
  { cast, towns, tell }: Play,
  passwordHash: string,
  say: (line: string) => void,
): Promise<DemoLogin[]> {
  const today = localDay(services.now(), cast.timezone);
  const random = seeded(cast.seed + 1);
  const openedMs = Date.parse(`${addDays(today, -OPENED_DAYS_AGO)}T12:00:00Z`);
  const companyId = idAt(openedMs, random);
  const members = membersOf(cast, random, openedMs);
  const actor = { memberId: members[0]?.id ?? null };
  const jobs = await services.database.withCompany(companyId, actor, async (db) => {
    const world = await openCompany(db, cast, { today, passwordHash, members, towns });
    tell(world);
    giveNumbers(world);
    await world.rows.write(db);
    const told = await db.sql<{
      id: string;
    }>`SELECT id FROM jobs WHERE company_id = ${db.companyId} ORDER BY id`;
    for (const { id } of told) await refreshJob(db, id, today);
    return told.length;
  });
  say(`${cast.name}: ${jobs} jobs, ${cast.crews.length} crews.`);
  return members.flatMap(({ roles, name, email }) =>
    roles.slice(0, 1).map((role) => ({ company: cast.name, role, name, email })),
  );
}
