import { describe, expect, it } from "vitest";
import { takeoff } from "./index.ts";
import { DECKING, deck, FRAMING, GUARD, polygon, STAIR } from "./zones.fixture.ts";

const bare = { framing: null, decking: null };

describe("findings", () => {
  const fields = (change: Parameters<typeof deck>[0]) => takeoff(deck(change)).findings.map((f) => f.field);
  const square = polygon([0, 0], [96, 0], [96, 96], [0, 96]);
  it.each<[string, Parameters<typeof deck>[0], string[], string | null]>([
    [
      "crossing sides",
      { outline: polygon([0, 0], [96, 96], [96, 0], [0, 96]) },
      ["geometry.outline.points[2]"],
      null,
    ],
    [
      "a side touching a corner",
      { outline: polygon([0, 0], [96, 0], [96, 96], [48, 0], [0, 96]) },
      ["geometry.outline.points[2]"],
      null,
    ],
    [
      "a spike",
      { outline: polygon([0, 0], [96, 0], [48, 0], [48, 96]) },
      ["geometry.outline.points[1]"],
      null,
    ],
    ["zero area", { outline: polygon([0, 0], [48, 0], [96, 0]) }, ["geometry.outline.points"], null],
    [
      "a repeated corner",
      { outline: polygon([0, 0], [96, 0], [96, 0], [96, 96], [0, 96]) },
      ["geometry.outline.points[2]"],
      "64",
    ],
    [
      "all corners the same",
      { outline: polygon([1, 1], [1, 1], [1, 1]) },
      [
        "geometry.outline.points[0]",
        "geometry.outline.points[1]",
        "geometry.outline.points[2]",
        "geometry.outline.points",
      ],
      null,
    ],
    [
      "zero length",
      { outline: { shape: "rectangle", lengthIn: 0, widthIn: 96 } },
      ["geometry.outline.lengthIn"],
      null,
    ],
    [
      "a notch as big as the rectangle",
      { outline: { shape: "l_shape", lengthIn: 96, widthIn: 96, notchLengthIn: 96, notchWidthIn: 24 } },
      ["geometry.outline.notchLengthIn"],
      null,
    ],
    [
      "a notch of nothing",
      { outline: { shape: "l_shape", lengthIn: 96, widthIn: 96, notchLengthIn: 0, notchWidthIn: 24 } },
      ["geometry.outline.notchLengthIn"],
      "64",
    ],
    [
      "a cut-out outside",
      { outline: square, cutouts: [polygon([200, 0], [212, 0], [212, 12])] },
      ["geometry.cutouts[0]"],
      "64",
    ],
    [
      "a cut-out over the edge",
      { outline: square, cutouts: [polygon([90, 12], [100, 12], [100, 24])] },
      ["geometry.cutouts[0]"],
      "64",
    ],
    [
      "a cut-out around the surface",
      { outline: square, cutouts: [polygon([-9, -9], [200, -9], [200, 200], [-9, 200])] },
      ["geometry.cutouts[0]"],
      "64",
    ],
    [
      "overlapping cut-outs",
      {
        outline: square,
        cutouts: [
          polygon([12, 12], [36, 12], [36, 36], [12, 36]),
          polygon([24, 24], [48, 24], [48, 48], [24, 48]),
        ],
      },
      ["geometry.cutouts[1]"],
      "60",
    ],
    [
      "a cut-out inside another",
      {
        outline: square,
        cutouts: [polygon([12, 12], [36, 12], [36, 36], [12, 36]), polygon([20, 20], [24, 20], [24, 24])],
      },
      ["geometry.cutouts[1]"],
      "60",
    ],
    [
      "a cut-out around another",
      {
        outline: square,
        cutouts: [
          polygon([20, 20], [24, 20], [24, 24], [20, 24]),
          polygon([12, 12], [36, 12], [36, 36], [12, 36]),
        ],
      },
      ["geometry.cutouts[1]"],
      "63.8889",
    ],
    [
      "a self-crossing cut-out",
      { outline: square, cutouts: [polygon([12, 12], [36, 36], [36, 12], [12, 36])] },
      ["geometry.cutouts[0].points[2]"],
      "64",
    ],
    [
      "zero spacing",
      { framing: { ...FRAMING, joistSpacingIn: 0 } },
      ["geometry.framing.joistSpacingIn"],
      "192",
    ],
    [
      "joists a finger apart",
      { framing: { ...FRAMING, joistSpacingIn: 0.0625 } },
      ["geometry.framing.joistSpacingIn"],
      "192",
    ],
    [
      "zero board width",
      { decking: { ...DECKING, boardWidthIn: 0 } },
      ["geometry.decking.boardWidthIn"],
      "192",
    ],
    [
      "boards a finger wide",
      { decking: { ...DECKING, boardWidthIn: 0.5 } },
      ["geometry.decking.boardWidthIn"],
      "192",
    ],
    [
      "a border wider than the surface",
      { outline: { shape: "rectangle", lengthIn: 192, widthIn: 30 }, decking: { ...DECKING, borderRows: 3 } },
      ["geometry.decking.borderRows"],
      "40",
    ],
    [
      "frame and boards without an outline",
      { outline: null },
      ["geometry.framing", "geometry.decking"],
      null,
    ],
    [
      "cut-outs without an outline",
      { ...bare, outline: null, cutouts: [square] },
      ["geometry.cutouts"],
      null,
    ],
    [
      "no house side",
      { outline: polygon([0, 12], [96, 12], [96, 108], [0, 108]) },
      ["geometry.framing.ledger"],
      "64",
    ],
    [
      "a ledger beside the joists",
      { framing: { ...FRAMING, joistDirection: "along" } },
      ["geometry.framing.ledger"],
      "192",
    ],
    [
      "nothing under the joists",
      { framing: { ...FRAMING, ledger: false, beams: 0, posts: 0 } },
      ["geometry.framing.beams"],
      "192",
    ],
    ["one beam alone", { framing: { ...FRAMING, ledger: false } }, ["geometry.framing.beams"], "192"],
    ["posts without a beam", { framing: { ...FRAMING, beams: 0 } }, ["geometry.framing.posts"], "192"],
    ["a beam without posts", { framing: { ...FRAMING, posts: 0 } }, ["geometry.framing.posts"], "192"],
    [
      "an overhang past the deck",
      {
        outline: { shape: "rectangle", lengthIn: 192, widthIn: 60 },
        framing: { ...FRAMING, overhangIn: 60 },
      },
      ["geometry.framing.overhangIn"],
      "80",
    ],
    [
      "a stair that does not rise",
      { stairs: [{ ...STAIR, totalRiseIn: 0 }] },
      ["geometry.stairs[0].totalRiseIn"],
      "192",
    ],
    ["rises nobody builds", { stairs: [{ ...STAIR, risers: 60 }] }, ["geometry.stairs[0].risers"], "192"],
    [
      "a stair without width or depth",
      { stairs: [{ ...STAIR, widthIn: 0, treadDepthIn: 0 }] },
      ["geometry.stairs[0].widthIn", "geometry.stairs[0].treadDepthIn"],
      "192",
    ],
    [
      "treads without stringers",
      { stairs: [STAIR, { ...STAIR, stringers: 0 }] },
      ["geometry.stairs[1].stringers"],
      "192",
    ],
    [
      "a guard without length",
      { guards: [{ ...GUARD, lengthIn: 0 }] },
      ["geometry.guards[0].lengthIn"],
      "192",
    ],
    [
      "a guard without height",
      { guards: [{ ...GUARD, heightIn: 0 }] },
      ["geometry.guards[0].heightIn"],
      "192",
    ],
    [
      "a gate wider than its guard",
      { guards: [{ ...GUARD, gates: 1, lengthIn: 30, gateWidthIn: 36 }] },
      ["geometry.guards[0].gateWidthIn"],
      "192",
    ],
    ["a gate of no width", { guards: [{ ...GUARD, gates: 1 }] }, ["geometry.guards[0].gateWidthIn"], "192"],
    [
      "no post spacing",
      { guards: [{ ...GUARD, postSpacingIn: 0 }] },
      ["geometry.guards[0].postSpacingIn"],
      "192",
    ],
    [
      "balusters without width, gap or rail",
      { guards: [{ ...GUARD, balusterWidthIn: 0, clearGapIn: 0, rails: 0 }] },
      ["geometry.guards[0].balusterWidthIn", "geometry.guards[0].clearGapIn", "geometry.guards[0].rails"],
      "192",
    ],
  ])("%s", (_name, change, expected, areaSqft) => {
    expect(fields(change)).toEqual(expected);
    expect(takeoff(deck(change)).areaSqft).toBe(areaSqft);
  });
  it("counts what it can beside a fault", () => {
    const t = takeoff(
      deck({ framing: { ...FRAMING, joistSpacingIn: 0 }, guards: [{ ...GUARD, lengthIn: 0 }, GUARD] }),
    );
    expect(t.counts).toMatchObject({
      joists: null,
      crossings: null,
      boardRows: 26,
      ledgerLf: 16,
      posts: 3,
      guardPosts: 3,
    });
    const crossed = takeoff(deck({ outline: polygon([0, 0], [96, 96], [96, 0], [0, 96]), stairs: [STAIR] }));
    expect(crossed.counts).toMatchObject({ joists: null, boardRows: null, posts: 3, treads: 6 });
  });
  it("sizes that are no numbers, or disagree with the drawing", () => {
    const t = takeoff({ ...deck(), lengthFt: "14", widthFt: "12", heightFt: "six" });
    expect(t.findings.map((f) => f.field)).toEqual(["lengthFt", "heightFt"]);
    expect(t.findings[0]?.words).toContain("14 ft x 12 ft");
    expect(takeoff({ ...deck(), lengthFt: "12", widthFt: "16", heightFt: "4.3333" }).findings).toEqual([]);
    expect(takeoff({ ...deck(), heightFt: "8" }).findings.map((f) => f.field)).toEqual(["heightFt"]);
    const huge = takeoff({ kind: "deck", geometry: null, lengthFt: "9999999", widthFt: "0", heightFt: null });
    expect([huge.findings.map((f) => f.field), huge.areaSqft]).toEqual([["lengthFt", "widthFt"], null]);
  });
  it("a surface past any house gives its area and says so", () => {
    const t = takeoff(
      deck({
        outline: { shape: "rectangle", lengthIn: 6000, widthIn: 6000 },
        framing: { ...FRAMING, joistSpacingIn: 4 },
        decking: { ...DECKING, boardWidthIn: 1.5, gapIn: 0 },
      }),
    );
    expect([t.areaSqft, t.boardRows.length, t.findings.map((f) => f.field)]).toEqual([
      "250000",
      0,
      ["geometry.decking"],
    ]);
  });
});
