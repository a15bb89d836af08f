import { addDays } from "@ledgerboard/contracts/dates";
import type { TenantDb } from "@ledgerboard/database";
import { addCrew } from "../features/crews/crews.ts";
import { layOutBooks, OPENED_DAYS_AGO } from "./books.ts";
import { closedDays, Days } from "./calendar.ts";
import type { Cast } from "./cast.ts";
import { crowd } from "./people.ts";
import type { Town } from "./places.ts";
import { idAt, type Random, seeded } from "./random.ts";
import { insert, Rows } from "./rows.ts";
import type { DemoCrew, Member, World } from "./world.ts";

/** Opens the company with its people, price books, crews and closed days, and answers the world its story is told in. */
export async function openCompany(
  db: TenantDb,
  cast: Cast,
  setting: { today: string; passwordHash: string; members: readonly Member[]; towns: readonly Town[] },
): Promise<World> {
  const { today, passwordHash, members, towns } = setting;
  const { companyId } = db;
  const random = seeded(cast.seed);
  const opened = addDays(today, -OPENED_DAYS_AGO);
  const { slug, name, prefix, state, timezone, phone, address, licenceLine, insuranceLine } = cast;
  const { depositShareBp, quoteValidDays } = cast;
  const since = { created_at: opened, updated_at: opened };
  await insert(db, "companies", [
    {
      id: companyId,
      slug,
      name,
      job_prefix: prefix,
      currency: "USD",
      state,
      timezone,
      phone,
      email: `office@${slug}.example`,
      address,
      licence_line: licenceLine,
      insurance_line: insuranceLine,
      deposit_share_bp: depositShareBp,
      quote_valid_days: quoteValidDays,
      ...since,
    },
  ]);
  const people = members.map((member) => ({
    ...member,
    password_hash: passwordHash,
    active: true,
    failed_sign_ins: 0,
    ...since,
  }));
  await insert(db, "members", people);
  await db.audit({
    action: "company.opened",
    entity: "company",
    entityId: companyId,
    words: `${name} was invented, to try the service with.`,
  });
  await insert(db, "calendars", [{ crew_id: null, weekdays: [1, 2, 3, 4, 5] }]);
  // $500 or 10 %, and any structural component whose action changes: common practice, no source.
  const rules = { amountCents: 50_000, percentBp: 1_000, hours: null, structuralAction: true };
  const policyId = idAt(Date.parse(opened), random);
  await insert(db, "materiality_policies", [
    {
      id: policyId,
      effective_from: opened,
      amount_cents: rules.amountCents,
      percent_bp: rules.percentBp,
      hours: rules.hours,
      structural_action: rules.structuralAction,
      ...since,
    },
  ]);

  const rows = new Rows();
  const closures = closedDays(opened, addDays(today, 730));
  for (const { on, why } of closures) rows.add("calendar_closures", { crew_id: null, on_day: on, why });
  const [owner, ...others] = members;
  if (!owner) throw new Error(`${name} has no owner.`);
  const named = (wanted: string): Member => {
    const member = [owner, ...others].find((m) => m.name === wanted);
    if (!member) throw new Error(`${wanted} does not work at ${name}.`);
    return member;
  };
  const crews = await formCrews(db, cast);
  return {
    random,
    days: new Days(today, closures),
    timezone,
    prefix,
    state,
    depositShareBp,
    quoteValidDays,
    letterhead: { name, address, phone, licenceLine, insuranceLine },
    owner,
    sales: cast.sales.map((seller) => ({ ...named(seller.name), habit: seller.habit })),
    estimators: cast.estimators.map((estimator) => named(estimator.name)),
    scheduler: named(cast.scheduler.name),
    leads: new Map(crews.map((crew, i) => [crew.id, named(cast.crews[i]?.people[0] ?? "")])),
    crews,
    books: await layOutBooks(db, cast, today),
    lumber: cast.lumber,
    policy: { id: policyId, ...rules },
    towns,
    meet: crowd(random, cast.areas, cast.rounds),
    rows,
    unnumbered: [],
  };
}

/** The people who sign in, the owner first. */
export function membersOf(cast: Cast, random: Random, openedMs: number): Member[] {
  const { owner, sales, estimators, scheduler, crews, slug } = cast;
  const leads = crews.map(({ people }, i) => ({
    name: people[0] ?? "",
    box: i === 0 ? "lead" : (people[0] ?? "").split(" ")[0]?.toLowerCase(),
    roles: ["lead_hand" as const],
  }));
  return [owner, ...sales, ...estimators, scheduler, ...leads].map(({ name, box, roles }) => ({
    id: idAt(openedMs, random),
    name,
    email: `${box}@${slug}.example`,
    roles: [...roles],
  }));
}

async function formCrews(db: TenantDb, cast: Cast): Promise<DemoCrew[]> {
  const crews: DemoCrew[] = [];
  for (const { name, size, skills, base, people } of cast.crews) {
    const [baseLatitude, baseLongitude] = base;
    const members = people.map((person, i) => ({ name: person, lead: i === 0 }));
    const crew = await addCrew(db, {
      name,
      size,
      skills,
      baseLatitude,
      baseLongitude,
      weekdays: [1, 2, 3, 4, 5],
      members,
    });
    crews.push({ id: crew.id, name, size, runs: [] });
  }
  return crews;
}
