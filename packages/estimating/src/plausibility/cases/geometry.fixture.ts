import { type Case, deck, job, line, SOUND, stair } from "../job.fixture.ts";

const onDeck = (change: Parameters<typeof deck>[0]) => job([], { zones: [deck(change)] });
const onStair = (...change: Parameters<typeof stair>) => job([], { zones: [stair(...change)] });
const counted = (balusterGapIn: number) => ({
  takeoff: {
    guards: [{ sections: 7, posts: 8, gates: 0, clearWidthIn: 68.5, balustersPerSection: 12, balusterGapIn }],
  },
});
const lags = (count: string) => job([line("ledger", "refasten", count, "each")]);
const riser = (riserHeightIn: number) => ({
  stairs: [{ risers: 7, riserHeightIn, treads: 6, treadBoards: 12, stringers: 3, stringerLengthIn: 90 }],
});

export const GEOMETRY_CASES: Case[] = [
  {
    rule: "geometry_fault",
    fires: job(SOUND, {
      zones: [
        deck({
          takeoff: { findings: [{ field: "geometry.outline.points", words: "The outline crosses itself." }] },
        }),
        stair(),
      ],
    }),
    says: /^Rear deck: The outline crosses itself/,
    field: "geometry.outline.points",
    silent: job(SOUND),
  },
  {
    rule: "geometry_fault",
    fires: onDeck({
      takeoff: { findings: [{ field: "geometry.framing.joistSpacingIn", words: "Is zero." }] },
    }),
    says: /Is zero/,
    severity: "note",
    field: "geometry.framing.joistSpacingIn",
    silent: job([]),
  },
  {
    rule: "guard_missing",
    fires: onDeck({ guard: null, heightIn: 31 }),
    says: /31 in above the ground; more than 30 in needs a guard.*Local code decides/,
    field: "geometry.guards",
    silent: onDeck({ guard: null, heightIn: 30 }),
  },
  {
    rule: "guard_missing",
    // The stair's own guard is none for the deck; a railing drawn as a zone of its own may be.
    fires: job([], { zones: [deck({ guard: null }), stair()] }),
    says: /60 in above the ground.*None is drawn or listed for Rear deck/,
    field: "geometry.guards",
    silent: job([], { zones: [deck({ guard: null }), { ...stair(), id: "railing", kind: "railing" }] }),
  },
  {
    rule: "guard_low",
    fires: onDeck({ guard: { heightIn: 35.5 } }),
    says: /The guard is 35 1\/2 in high; 36 in is the least/,
    field: "geometry.guards[0].heightIn",
    silent: onStair({}, { heightIn: 34 }),
  },
  {
    rule: "guard_low",
    fires: onDeck({ guard: { heightIn: 32 }, heightIn: 24 }),
    says: /32 in high/,
    severity: "note",
    field: "geometry.guards[0].heightIn",
    silent: onDeck({ guard: { heightIn: 0 } }),
  },
  {
    rule: "guard_opening",
    fires: onDeck({ guard: { clearGapIn: 4.0625 }, ...counted(3.9) }),
    says: /Openings of 4 1\/16 in let a 4 in sphere through/,
    field: "geometry.guards[0].clearGapIn",
    silent: onDeck({ guard: { clearGapIn: 3.9375 } }),
  },
  {
    rule: "guard_opening",
    fires: onDeck({ guard: { clearGapIn: 4 } }),
    says: /Openings of 4 in let/,
    field: "geometry.guards[0].clearGapIn",
    silent: onDeck({ guard: { clearGapIn: 4 }, ...counted(3.8846) }),
  },
  {
    rule: "guard_opening",
    fires: onStair({}, { clearGapIn: 4.375 }),
    says: /4 3\/8 in sphere through/,
    field: "geometry.guards[0].clearGapIn",
    silent: onStair({}, { clearGapIn: 4.3125 }),
  },
  {
    rule: "guard_unfilled",
    fires: onDeck({ guard: { infill: "none" } }),
    says: /nothing between its rails/,
    field: "geometry.guards[0].infill",
    silent: onDeck({ guard: { infill: "lattice" } }),
  },
  {
    rule: "gate_wide",
    fires: onDeck({ guard: { gates: 1, gateWidthIn: 60 } }),
    says: /A gate 60 in wide on Rear deck sags/,
    field: "geometry.guards[0].gateWidthIn",
    silent: onDeck({ guard: { gates: 1, gateWidthIn: 48 } }),
  },
  {
    rule: "riser_high",
    fires: onStair({ risers: 7 }),
    says: /Risers come to 8 9\/16 in; 7 3\/4 in is the most/,
    field: "geometry.stairs[0].risers",
    silent: onStair({ totalRiseIn: 62, risers: 8 }),
  },
  {
    rule: "riser_high",
    fires: onStair({ risers: null }, {}, riser(8)),
    says: /Risers come to 8 in/,
    field: "geometry.stairs[0].risers",
    silent: onStair({ risers: null }, {}, riser(7.5)),
  },
  {
    rule: "tread_shallow",
    fires: onStair({ treadDepthIn: 9.25 }),
    says: /Treads are 9 1\/4 in deep; 10 in is the least/,
    field: "geometry.stairs[0].treadDepthIn",
    silent: onStair({ treadDepthIn: 10 }),
  },
  {
    rule: "stair_narrow",
    fires: onStair({ widthIn: 34 }),
    says: /34 in wide; 36 in is the least/,
    field: "geometry.stairs[0].widthIn",
    silent: onStair({ widthIn: 36 }),
  },
  {
    rule: "stringers_far_apart",
    fires: onStair({ widthIn: 42 }),
    says: /3 stringers under 42 in stand 21 in apart; 18 in is the most/,
    field: "geometry.stairs[0].stringers",
    silent: onStair({ widthIn: 36 }),
  },
  {
    rule: "handrail_missing",
    fires: onStair({}, null),
    says: /8 risers; from 4 on it needs a handrail/,
    field: "geometry.stairs[0].risers",
    silent: onStair({ totalRiseIn: 21, risers: 3 }, null),
  },
  {
    rule: "open_risers",
    fires: onStair({ closedRisers: false }),
    says: /Open risers leave 6 1\/2 in; a 4 in sphere must not pass/,
    field: "geometry.stairs[0].closedRisers",
    silent: onStair({ closedRisers: false, totalRiseIn: 30, risers: 4 }),
  },
  {
    rule: "joist_span",
    fires: onDeck({ outline: { shape: "rectangle", lengthIn: 192, widthIn: 168 } }),
    says: /They span 13 ft\. Southern Pine 2x8 joists at 16 in on center span 11 ft 10 in at most/,
    field: "geometry.framing.beams",
    silent: onDeck({ outline: { shape: "rectangle", lengthIn: 192, widthIn: 154 } }),
  },
  {
    rule: "joist_span",
    fires: onDeck({
      framing: { joistDirection: "along", ledger: false, beams: 2, overhangIn: 0 },
      outline: {
        shape: "polygon",
        points: [
          { x: -10, y: 0 },
          { x: 150, y: 0 },
          { x: 150, y: 90 },
        ],
      },
    }),
    says: /They span 13 ft 4 in/,
    field: "geometry.framing.beams",
    silent: onDeck({
      framing: { joistDirection: "along", ledger: false, beams: 3, overhangIn: 0 },
      outline: {
        shape: "polygon",
        points: [
          { x: -10, y: 0 },
          { x: 150, y: 0 },
          { x: 150, y: 90 },
        ],
      },
    }),
  },
  {
    rule: "joists_off_table",
    fires: onDeck({ framing: { joistSpacingIn: 32 } }),
    says: /stand 2 ft 8 in on center.*licensed engineer/,
    field: "geometry.framing.joistSpacingIn",
    silent: onDeck({ framing: { joistSpacingIn: 0 } }),
  },
  {
    rule: "joist_overhang",
    fires: onDeck({ framing: { overhangIn: 25 } }),
    says: /They run 2 ft 1 in past the beam; 2 ft is the most/,
    field: "geometry.framing.overhangIn",
    silent: onDeck({ framing: { overhangIn: 24 } }),
  },
  {
    rule: "joists_far_apart_for_boards",
    fires: onDeck({ decking: { pattern: "diagonal" } }),
    says: /Joists stand 16 in on center; 5\/4 boards laid diagonal need 12 in or less/,
    field: "geometry.framing.joistSpacingIn",
    silent: onDeck({ decking: { pattern: "diagonal", thickness: "two_by" } }),
  },
  {
    rule: "ledger_fasteners_few",
    // 16 ft less 2 in at each end is 188 in; at 15 in that is 13 spaces, so 14 lags.
    fires: lags("13"),
    says: /every 15 in or closer\. That is 14 lag screws along the ledger of Rear deck; the line has 13/,
    field: "quantity",
    silent: lags("14"),
  },
  {
    rule: "ledger_fasteners_few",
    fires: job([line("ledger", "reinforce", "4", "each")]),
    says: /the line has 4\./,
    field: "quantity",
    silent: job([line("ledger", "reinforce", "4", "each", { description: "Lateral-load ties" })]),
  },
];
