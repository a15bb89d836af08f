import type { PaymentMethod, SigningPlace } from "@ledgerboard/contracts";
import { sayDate } from "@ledgerboard/contracts/dates";
import { formatMoney } from "@ledgerboard/contracts/money";
import { words } from "@ledgerboard/contracts/vocabulary";
import { cancellation, depositCap } from "@ledgerboard/rules";
import { limitOf, sayCap, suggestDeposit } from "../features/money-ledger/cap.ts";
import { canonicalJson, type Offer, quoteDocument, sha256 } from "../features/quotes/document.ts";
import { offered } from "../features/quotes/offered.ts";
import { idAt } from "./random.ts";
import type { Revised } from "./scope.ts";
import { born, moment, type Story, tell } from "./story.ts";
import type { Member, Numbered } from "./world.ts";

/** A quote as the story remembers it. */
export interface Paper {
  id: string;
  priceCents: number;
  issuedOn: string;
  numbered: Numbered;
  signature: { id: string; signedOn: string; cancelUntil: string | null; void: boolean } | null;
  ended: boolean;
  /** Whole cents of the deposit asked for. */
  depositCents: number | null;
  sha256(): string;
  /** Ends the quote where somebody could still sign it. */
  end(at: string, by: Member, kind: "superseded" | "declined" | "withdrawn", why: () => string): void;
  voidSignature(at: string, by: Member, varianceId: string | null, why: string): void;
}

/** Calls `make` once, when the number that goes into the document is known. */
function later<T>(make: () => T): () => T {
  let made: { value: T } | null = null;
  return () => {
    made ??= { value: make() };
    return made.value;
  };
}

/** What a revision offers, with the advisories as they stand now. The job's number is not known yet. */
function offerOf(story: Story, revision: Revised): Omit<Offer, "jobNumber"> {
  const { letterhead, quoteValidDays } = story.world;
  const { name, property: p } = story.customer;
  return {
    company: letterhead,
    quoteValidDays,
    customerName: name,
    property: `${p.street}, ${p.city}, ${p.state} ${p.postalCode}`,
    yearBuilt: p.yearBuilt,
    saltExposure: p.saltExposure,
    title: story.title,
    revisionId: revision.id,
    priceCents: revision.totals.priceCents,
    ...offered(revision, story.advisories),
  };
}

/** Issues a quote from the newest issued revision; an older one, and a signature on it, end with that. */
export function quote(story: Story, day: string, validDays = story.world.quoteValidDays): void {
  const { rows, random, unnumbered } = story.world;
  const { seller: by } = story;
  const revision = story.revisions.findLast((r) => r.issued);
  if (!revision) throw new Error(`${story.title}: nothing is issued to quote from.`);
  const { ms, at } = moment(story, day);
  const numbered: Numbered = { kind: "quote", ms, year: day.slice(2, 4), number: "" };
  unnumbered.push(numbered);
  story.paper?.end(at, by, "superseded", () => `Replaced by quote ${numbered.number}.`);
  const offer = offerOf(story, revision);
  const document = later(() => quoteDocument({ ...offer, jobNumber: story.numbered.number }, day, validDays));
  const text = later(() => canonicalJson(document()));
  const { priceCents } = revision.totals;
  const paper: Paper = {
    id: idAt(ms, random),
    priceCents,
    issuedOn: day,
    numbered,
    signature: null,
    ended: false,
    depositCents: null,
    sha256: later(() => sha256(text())),
    end(endedAt, endedBy, kind, why) {
      if (this.ended || (this.signature && !this.signature.void)) return;
      this.ended = true;
      rows.add("quote_endings", { quote_id: this.id, kind, why, member_id: endedBy.id, ...born(endedAt) });
      const said = () =>
        kind === "declined"
          ? `The customer declined quote ${numbered.number}: ${why()}`
          : `Quote ${numbered.number} ${kind}: ${why()}`;
      tell(story, endedBy, endedAt, { action: `quote.${kind}`, entity: "quote", id: this.id, words: said });
    },
    voidSignature(voidedAt, voidedBy, varianceId, why) {
      const { signature } = this;
      if (!signature || signature.void) return;
      signature.void = true;
      rows.add("acceptance_voids", {
        acceptance_id: signature.id,
        why,
        variance_id: varianceId,
        ...born(voidedAt),
      });
      const said = `${story.customer.name}'s signature of ${sayDate(signature.signedOn)} no longer stands. ${why}`;
      const entity = { entity: "acceptance", id: signature.id };
      tell(story, voidedBy, voidedAt, { ...entity, action: "acceptance.voided", words: said });
    },
  };
  rows.add("quotes", {
    id: paper.id,
    job_id: story.id,
    revision_id: revision.id,
    number: () => numbered.number,
    price_cents: priceCents,
    document,
    document_text: text,
    document_sha256: paper.sha256,
    issued_on: day,
    expires_on: () => document().expiresOn,
    issued_by_id: by.id,
    ...born(at),
  });
  const said = () =>
    `Quote ${numbered.number} issued for ${formatMoney(priceCents)}, to be signed by ${sayDate(document().expiresOn)}.`;
  tell(story, by, at, { action: "quote.issued", entity: "quote", id: paper.id, words: said });
  story.paper = paper;
}

function paperOf(story: Story): Paper {
  if (!story.paper) throw new Error(`${story.title}: no quote is out.`);
  return story.paper;
}

/** The customer signs the newest quote. */
export function sign(story: Story, day: string, signedAt: SigningPlace): void {
  const { rows, random } = story.world;
  const { ms, at } = moment(story, day);
  const paper = paperOf(story);
  const right = cancellation({ signedOn: day, signedAt, contractCents: paper.priceCents });
  const id = idAt(ms, random);
  paper.signature = { id, signedOn: day, cancelUntil: right.lastDay, void: false };
  rows.add("acceptances", {
    id,
    job_id: story.id,
    quote_id: paper.id,
    signer: story.customer.name,
    signed_on: day,
    signed_at: signedAt,
    document_sha256: paper.sha256,
    cancel_until: right.lastDay,
    recorded_by_id: story.seller.id,
    ...born(at),
  });
  const cancelling = right.lastDay
    ? `The right to cancel runs to ${sayDate(right.lastDay)} (${right.source}). ${right.checkLocalLaw}`
    : `No federal right to cancel. ${right.rule} ${right.checkLocalLaw}`;
  const said = () =>
    `${story.customer.name} signed quote ${paper.numbered.number} for ${formatMoney(paper.priceCents)} on ${sayDate(day)}. ${cancelling}`;
  tell(story, story.seller, at, { action: "quote.accepted", entity: "quote", id: paper.id, words: said });
}

export function decline(story: Story, day: string, why: string): void {
  paperOf(story).end(moment(story, day).at, story.seller, "declined", () => why);
}

/** Asks for the company's usual share, within the lawful cap. */
export function askDeposit(story: Story, day: string, dueOn: string): void {
  const { rows, random, depositShareBp } = story.world;
  const { ms, at } = moment(story, day);
  const paper = paperOf(story);
  const cap = depositCap({ state: story.customer.property.state, contractCents: paper.priceCents });
  const cents = suggestDeposit(paper.priceCents, depositShareBp, cap);
  const id = idAt(ms, random);
  paper.depositCents = cents;
  rows.add("deposit_requests", {
    id,
    job_id: story.id,
    quote_id: paper.id,
    amount_cents: cents,
    cap_cents: limitOf(cap),
    cap_source: cap.source,
    due_on: dueOn,
    requested_by_id: story.seller.id,
    ...born(at),
  });
  const said = `Deposit of ${formatMoney(cents)} asked, due ${sayDate(dueOn)}. ${sayCap(cap)}`;
  tell(story, story.seller, at, { action: "deposit.requested", entity: "deposit_request", id, words: said });
}

/** Money received, or paid back where `cents` is negative. */
export function pay(story: Story, day: string, cents: number, method?: PaymentMethod): void {
  const { rows, random } = story.world;
  const { ms, at } = moment(story, day);
  const by = random.pick(["cheque", "cheque", "card", "bank_transfer"] as const);
  const how = method ?? by;
  const reference = how === "cheque" ? `cheque ${random.whole(1001, 9899)}` : "";
  const id = idAt(ms, random);
  const kind = cents < 0 ? "refund" : "receipt";
  rows.add("payments", {
    id,
    job_id: story.id,
    kind,
    method: how,
    amount_cents: cents,
    received_on: day,
    reference,
    recorded_by_id: story.seller.id,
    ...born(at),
  });
  const what = `${formatMoney(Math.abs(cents))} ${cents < 0 ? "paid back" : "received"} by ${words(how)}`;
  const said = `${what} on ${sayDate(day)}${reference && ` (${reference})`}.`;
  tell(story, story.seller, at, { action: `payment.${kind}`, entity: "payment", id, words: said });
}

/** The deposit comes in, whole. */
export function payDeposit(story: Story, day: string): number {
  const { depositCents } = paperOf(story);
  if (!depositCents) throw new Error(`${story.title}: no deposit was asked for.`);
  pay(story, day, depositCents);
  return depositCents;
}
