import type { LeadSource } from "@ledgerboard/contracts";
import { contactColumns } from "../features/customers/normalise.ts";
import type { Advised } from "./advise.ts";
import { instantOf } from "./calendar.ts";
import type { Paper } from "./contract.ts";
import type { Contact } from "./people.ts";
import type { Place } from "./places.ts";
import { idAt } from "./random.ts";
import type { Row } from "./rows.ts";
import type { Revised } from "./scope.ts";
import type { ZoneSpec } from "./work.ts";
import type { Member, Numbered, Seller, World } from "./world.ts";

export interface Customer extends Contact {
  id: string;
  property: Place & { id: string };
}

interface StoryZone extends ZoneSpec {
  id: string;
  /** Once somebody has written it down. */
  row: Row | null;
}

/** One job while it is being told: what has happened so far, and when the last of it did. */
export interface Story {
  world: World;
  id: string;
  row: Row;
  title: string;
  numbered: Numbered;
  customer: Customer;
  seller: Seller;
  zones: Map<string, StoryZone>;
  estimateId: string | null;
  revisions: Revised[];
  advisories: Advised[];
  /** The newest quote. */
  paper: Paper | null;
  booking: (Row & { id: string }) | null;
  promisedTo: string | null;
  /** Instant of the last event, and of the last entry of the audit trail. */
  lastMs: number;
  toldMs: number;
}

const OPENS = 8 * 60 + 10;

/**
 * The next instant of the story on that day, `from` minutes past midnight or a little later. A story that would go
 * backwards in time is a mistake in it.
 */
export function moment(story: Story, day: string, from = OPENS): { ms: number; at: string } {
  const { world } = story;
  const opens = instantOf(day, from + world.random.whole(0, 70), world.timezone);
  story.lastMs = Math.max(opens, story.lastMs + world.random.whole(6, 25) * 60_000);
  if (story.lastMs >= instantOf(day, 24 * 60, world.timezone)) {
    throw new Error(`${story.title}: something is told for ${day} that came before what was told last.`);
  }
  return { ms: story.lastMs, at: new Date(story.lastMs).toISOString() };
}

export const born = (at: string) => ({ created_at: at, updated_at: at });

interface Told {
  action: string;
  entity: string;
  id: string;
  words: string | (() => string);
}

/** An entry of the audit trail, as the service that does the same thing writes it. */
export function tell(
  story: Story,
  by: Member | null,
  at: string,
  { action, entity, id, words: said }: Told,
): void {
  // A second apart, so that what happened at once is read in the order it was told.
  story.toldMs = Math.max(Date.parse(at), story.toldMs + 1_000);
  const toldAt = new Date(story.toldMs).toISOString();
  story.world.rows.add("audit_entries", {
    id: idAt(story.toldMs, story.world.random),
    at: toldAt,
    member_id: by?.id ?? null,
    action,
    entity,
    entity_id: id,
    job_id: story.id,
    words: said,
    changes: {},
    ...born(toldAt),
  });
}

export interface Opening {
  day: string;
  title: string;
  words: string;
  zones: readonly ZoneSpec[];
  seller: Seller;
  source?: LeadSource;
  hazard?: string;
  /** Whose house it is: a customer known already, or a new one with a place. */
  customer: Customer | { contact: Contact; place: Place };
}

/** Takes the inquiry: customer and property where they are new, job and lead. */
export function openStory(world: World, opening: Opening): Story {
  const { random, rows } = world;
  const { day, title, seller, hazard = null } = opening;
  const known = "id" in opening.customer ? opening.customer : null;
  const story = {
    world,
    title,
    seller,
    zones: new Map(),
    estimateId: null,
    revisions: [],
    advisories: [],
    paper: null,
    booking: null,
    promisedTo: null,
    lastMs: 0,
    toldMs: 0,
  } as unknown as Story;
  const { ms, at } = moment(story, day);
  story.id = idAt(ms, random);
  story.numbered = { kind: "job", ms, year: day.slice(2, 4), number: "" };
  world.unnumbered.push(story.numbered);
  story.customer = known ?? meet(story, opening.customer as { contact: Contact; place: Place }, at);
  story.row = rows.add("jobs", {
    id: story.id,
    number: () => story.numbered.number,
    title,
    customer_id: story.customer.id,
    property_id: story.customer.property.id,
    salesperson_id: seller.id,
    estimator_id: null,
    hazard,
    pinned_why: null,
    inquiry_on: day,
    promised_from: null,
    promised_to: null,
    probability_bp: null,
    closed_on: null,
    closed_reason: null,
    closed_note: "",
    stage: "inquiry",
    facts: {},
    ...born(at),
  });
  const { name, phone, email } = story.customer;
  rows.add("leads", {
    id: idAt(ms, random),
    job_id: story.id,
    source:
      opening.source ?? (known ? "repeat_customer" : random.pick(["phone", "phone", "web_form", "referral"])),
    words: opening.words,
    contact_name: name,
    contact_phone: phone,
    contact_email: email,
    received_at: at,
    ...born(at),
  });
  tell(story, seller, at, {
    action: "job.opened",
    entity: "job",
    id: story.id,
    words: () => `Inquiry from ${name}: job ${story.numbered.number} opened.`,
  });
  for (const zone of opening.zones) {
    story.zones.set(zone.name, { ...zone, id: idAt(ms, random), row: null });
  }
  return story;
}

function meet(story: Story, { contact, place }: { contact: Contact; place: Place }, at: string): Customer {
  const { random, rows } = story.world;
  const id = idAt(Date.parse(at), random);
  const property = { ...place, id: idAt(Date.parse(at), random) };
  const { phone, phoneNormalized, email, emailNormalized } = contactColumns(contact);
  rows.add("customers", {
    id,
    name: contact.name,
    phone,
    phone_normalized: phoneNormalized,
    email,
    email_normalized: emailNormalized,
    notes: "",
    ...born(at),
  });
  rows.add("properties", {
    id: property.id,
    customer_id: id,
    street: place.street,
    city: place.city,
    state: place.state,
    postal_code: place.postalCode,
    latitude: place.latitude,
    longitude: place.longitude,
    year_built: place.yearBuilt,
    access_notes: place.accessNotes,
    salt_exposure: place.saltExposure,
    ...born(at),
  });
  return { ...contact, id, property };
}

/** Writes the zones down, as whoever looks at the place first does: what is there is assumed from a short look. */
export function layOutZones(story: Story, at: string, by: Member): void {
  for (const zone of story.zones.values()) {
    const { id, name, kind, length, width, height, geometry } = zone;
    zone.row = story.world.rows.add("zones", {
      id,
      job_id: story.id,
      name,
      kind,
      length_ft: length,
      width_ft: width,
      height_ft: height,
      geometry,
      evidence: "assumed",
      notes: "",
      ...born(at),
    });
    tell(story, by, at, { action: "zone.added", entity: "zone", id, words: `Zone added: ${name}.` });
  }
}

/** Puts a tape to the zones of these lines. */
export function measureZones(
  story: Story,
  at: string,
  by: Member,
  lines: readonly { zoneId: string }[],
): void {
  const looked = new Set(lines.map((line) => line.zoneId));
  for (const { id, name, row } of story.zones.values()) {
    if (!row || !looked.has(id) || row.evidence === "measured") continue;
    Object.assign(row, { evidence: "measured", updated_at: at });
    tell(story, by, at, { action: "zone.changed", entity: "zone", id, words: `Zone measured: ${name}.` });
  }
}

export function zoneOf(story: Story, name: string): StoryZone {
  const zone = story.zones.get(name);
  if (!zone) throw new Error(`${story.title} has no zone "${name}".`);
  return zone;
}
