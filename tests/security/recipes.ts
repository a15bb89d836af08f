import type { Endpoint } from "@ledgerboard/contracts";
import type { Response } from "supertest";
import { DECK_SHAPE, TODAY, usd, type World } from "../support/fixtures.ts";
import type { Client } from "../support/harness.ts";

export type Body = Record<string, unknown>;

/** A body each endpoint takes, with nothing but ids of the given company. Every endpoint with a body needs one. */
export function bodies(w: World): Record<string, Body> {
  const token = "A".repeat(43);
  const password = "seven boards of cedar";
  const material = {
    name: "Deck board",
    unit: "lf",
    section: "5/4x6",
    packs: [
      { size: "8", price: usd(1280) },
      { size: "12.5", price: usd(1900) },
    ],
    wholePacks: false,
  };
  const assembly = {
    component: "decking",
    action: "replace",
    description: "Boards laid new",
    unit: "sqft",
    recipe: {
      materials: [{ code: "SCREW-DECK", inSalt: "SCREW-DECK-SS", perUnit: "3.2", wasteBp: 500 }],
      labor: [{ code: "carpenter", hoursPerUnit: "0.12", setupHours: "0.5" }],
      disposalUnitCents: "35",
      equipmentUnitCents: "4.5",
      laborCvBp: 2500,
    },
    note: "Our own figures.",
  };
  const line = {
    zoneId: w.spare.zoneId,
    component: "tread",
    action: "replace",
    assemblyCode: "TREAD-REPLACE",
    description: "Lower flight",
    quantity: "3",
    unit: "each",
    evidence: "concealed",
    by: "us",
    alternate: "Lower flight new",
    allowance: {
      chanceBp: 4000,
      lowQuantity: "1",
      highQuantity: "5",
      capQuantity: "4",
      charge: "included",
    },
    reasonCode: "miscount",
    reason: "Counted again.",
  };
  const rate = { name: "Carpenter", hourly: usd(3800), burdenBp: 3200 };
  const crew = {
    name: "Second crew",
    size: 2,
    skills: ["stairs"],
    baseLatitude: 39.2,
    baseLongitude: -76.6,
    weekdays: [1, 2, 3],
    members: [{ name: "Jo Pike", lead: true }],
  };
  const visit = {
    startsAt: "2026-03-05T14:00:00Z",
    minutes: 45,
    memberId: w.company.sales.memberId,
    notes: "Gate code 11.",
  };
  const zone = {
    name: "Rear landing",
    kind: "landing",
    lengthFt: "4.5",
    widthFt: "4",
    heightFt: "3",
    geometry: {
      ...DECK_SHAPE,
      outline: {
        shape: "l_shape",
        lengthIn: 144,
        widthIn: 120,
        notchLengthIn: 48.5,
        notchWidthIn: 36.0625,
      },
      cutouts: [
        {
          points: [
            { x: 12, y: 12 },
            { x: 24, y: 12 },
            { x: 24, y: 24.5 },
          ],
        },
      ],
    },
    evidence: "measured",
    notes: "Behind the shed.",
  };
  const property = { street: "8 Quay Road", city: "Galesville", state: "MD", postalCode: "20765" };
  const place = {
    latitude: 38.8,
    longitude: -76.5,
    yearBuilt: 1980,
    accessNotes: "Dog.",
    saltExposure: true,
  };
  return {
    signUp: {
      companyName: "New Co",
      state: "MD",
      timezone: "America/New_York",
      name: "Nia New",
      email: "nia@new.example",
      password,
    },
    signIn: { email: "nobody@nowhere.example", password, company: "no-such-co" },
    changePassword: { current: "not the password", next: password },
    requestPasswordReset: { email: "nobody@nowhere.example" },
    confirmPasswordReset: { token, password },
    updateMember: { name: "Renamed Hand", roles: ["lead_hand"], active: true },
    invite: { name: "One More", email: "more@place.example", roles: ["scheduler"] },
    readInvitation: { token },
    acceptInvitation: { token, name: "Nia New", password },
    updateCompany: {
      name: "Renamed Company",
      phone: "410-555-0100",
      email: "office@place.example",
      address: "1 Main Street",
      state: "MD",
      timezone: "America/New_York",
      licenceLine: "Licence 1",
      insuranceLine: "Insured",
      depositShareBp: 3000,
      quoteValidDays: 20,
    },
    addPolicy: {
      effectiveFrom: "2026-06-01",
      amount: usd(40_000),
      percentBp: 900,
      hours: "10",
      structuralAction: false,
    },
    updateCustomer: {
      name: "Renamed",
      phone: "410-555-0155",
      email: "re@named.example",
      notes: "Prefers mail.",
    },
    updateProperty: { ...property, ...place },
    mergeCustomers: { otherId: w.spare.customerId },
    unmergeCustomer: { otherId: w.spare.customerId },
    createLead: {
      source: "phone",
      words: "The rail wobbles.",
      title: "Rail",
      hazard: "rail loose",
      customer: { name: "Lee Ash", phone: "410-555-0177", email: "lee@ash.example", notes: "" },
      property: { ...property, ...place },
    },
    publicInquiry: {
      name: "Web Person",
      phone: "410-555-0178",
      email: "web@person.example",
      street: "8 Quay Road",
      city: "Galesville",
      postalCode: "20765",
      words: "Steps are rotten.",
      unsafe: false,
      website: "",
      filledInMs: 20_000,
    },
    updateJob: {
      title: "Renamed job",
      hazard: "rail loose",
      salespersonId: w.company.sales.memberId,
      estimatorId: w.company.estimator.memberId,
    },
    pinJob: { why: "Promised by the owner" },
    promiseWindow: { from: "2026-04-06", to: "2026-04-10", probabilityBp: 8000 },
    closeJob: { reason: "no_answer", note: "Called three times." },
    reopenJob: { why: "Called back." },
    addVisit: { kind: "site_review", ...visit },
    updateVisit: { ...visit, state: "scheduled" },
    addObservation: {
      zoneId: w.params.zoneId,
      component: "ledger",
      text: "No flashing.",
      evidence: "measured",
    },
    addZone: zone,
    updateZone: zone,
    placeHold: { hold: "weather", why: "Rain all week." },
    startRevision: { kind: "first_pass" },
    addLine: line,
    updateLine: { ...line, reviewed: true },
    updateRevision: {
      note: "Haul away by the lane behind.",
      charges: [{ kind: "permit", words: "County permit", cost: usd(8_500), atCost: true }],
      marginBp: 3200,
    },
    refreshPrices: { dryRun: false },
    passFinding: { key: w.findingKey, why: "Counted with the owner." },
    withdrawPass: { key: w.findingKey },
    addAdvisory: {
      zoneId: w.params.zoneId,
      component: "baluster",
      words: "Balusters 5 in apart.",
      reference: "IRC 2018 R312.1.3",
    },
    decideAdvisory: { decision: "declined", name: "Pat Doe", on: TODAY, how: "Signed note" },
    waiveVariance: { why: "Customer agreed by phone." },
    issueQuote: { validDays: 20 },
    recordAcceptance: {
      signer: "Pat Doe",
      signedOn: TODAY,
      signedAt: "office",
      documentSha256: w.documentSha256,
    },
    declineQuote: { why: "Too dear." },
    requestDeposit: { amount: usd(5_000), dueOn: "2026-03-20" },
    recordPayment: {
      kind: "receipt",
      method: "cash",
      amount: usd(2_000),
      receivedOn: TODAY,
      reference: "by hand",
    },
    reversePayment: { why: "Entered twice." },
    addCrew: crew,
    updateCrew: { ...crew, name: "Renamed crew", active: true },
    addClosure: { crewId: w.params.crewId, on: "2026-12-28", why: "Stocktaking" },
    bookCrew: { crewId: w.params.crewId, startOn: "2026-04-06", crewDays: 2 },
    moveBooking: { crewId: w.params.crewId, startOn: "2026-03-23", crewDays: 4 },
    cancelBooking: { why: "Crew is ill." },
    finishWork: { actualHours: "31.5" },
    startPriceBook: { name: "Next year", effectiveFrom: "2027-01-04" },
    updatePriceBook: {
      name: "Book",
      overheadBp: 1100,
      marginBp: 2100,
      materialTaxBp: 600,
      minimumCharge: usd(35_000),
      roundUpTo: usd(500),
      laborCorrelationBp: 2500,
    },
    addMaterial: { code: "NEW-BOARD", ...material },
    updateMaterial: { ...material, retired: false },
    addAssembly: { code: "NEW-WORK", ...assembly },
    updateAssembly: { ...assembly, retired: false },
    importPrices: {
      list: "labor_rates",
      csv: "code,name,hourly,burden_percent\r\ncarpenter,Carpenter,39.50,32\r\n",
      dryRun: false,
    },
    addLaborRate: { code: "apprentice", ...rate },
    updateLaborRate: rate,
  };
}

/** Query values an endpoint cannot do without. */
export const QUERIES: Record<string, Record<string, string>> = {
  getCrewSheet: { from: "2026-03-02" },
  exportPrices: { list: "materials" },
};

export const namesIn = (endpoint: Endpoint): string[] =>
  [...endpoint.path.matchAll(/:(\w+)/g)].map((m) => m[1] ?? "");

/** The address of an endpoint with its ids. Throws where there is none for a name: a new name belongs into `World`. */
export function pathOf(endpoint: Endpoint, params: Record<string, string>): string {
  return endpoint.path.replace(/:(\w+)/g, (_, name: string) => {
    const value = params[name];
    if (!value)
      throw new Error(
        `${endpoint.id}: no id for :${name}; add it to World.params in tests/support/fixtures.ts.`,
      );
    return value;
  });
}

interface Send {
  body?: Body | undefined;
  version?: number;
  csrf?: string | null;
}

/** Calls any endpoint the way its method asks for. */
export function send(
  client: Pick<Client, "get" | "post" | "put" | "patch" | "delete">,
  endpoint: Endpoint,
  path: string,
  { body, version = 1, ...options }: Send = {},
): Promise<Response> {
  if (endpoint.method === "GET") return client.get(path, QUERIES[endpoint.id]);
  if (endpoint.method === "POST") return client.post(path, body, options);
  if (endpoint.method === "PUT") return client.put(path, body, options);
  if (endpoint.method === "PATCH") return client.patch(path, body, version, options);
  return client.delete(path, options);
}

/** What takes something away comes last, so that what it needs is still there for the others. */
export const gentleFirst = (a: Endpoint, b: Endpoint): number => weight(a) - weight(b);
const weight = (e: Endpoint): number =>
  e.id === "signOut" ? 3 : e.method === "DELETE" ? 2 : /close|cancel|revoke|merge/i.test(e.id) ? 1 : 0;
