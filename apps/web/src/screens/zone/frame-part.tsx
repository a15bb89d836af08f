import type { JoistSize } from "@ledgerboard/contracts/geometry";
import { Button } from "../../ui/button.tsx";
import { Checkbox, Segment } from "../../ui/choices.tsx";
import { Section } from "../../ui/section.tsx";
import { Select } from "../../ui/select.tsx";
import { toast } from "../../ui/toast.tsx";
import { useMeasuring } from "./context.ts";
import { Count, Length, Named, Remarks } from "./fields.tsx";
import { DIRECTIONS, LUMBER, nameOf, PATTERNS, THICKNESSES } from "./labels.ts";
import { newDecking, newFraming } from "./starts.ts";
import type { TypedDecking, TypedFraming } from "./typed.ts";

/** The contract's list, which cannot be imported without its schemas. */
const SIZES: readonly JoistSize[] = ["2x6", "2x8", "2x10", "2x12"];

/** The frame under the boards. */
export function FramingPart() {
  const { typed, set, refusal } = useMeasuring();
  const { framing } = typed;
  if (!framing)
    return (
      <Section id="framing" title="Framing">
        <Unmeasured start="Measure the framing" onStart={() => set({ framing: newFraming() })}>
          Not measured: joists, beams, posts and hangers are not counted.
        </Unmeasured>
      </Section>
    );
  const change = (one: Partial<TypedFraming>) => set({ framing: { ...framing, ...one } });
  const at = (name: keyof TypedFraming) => `geometry.framing.${name}`;
  return (
    <Section
      id="framing"
      title="Framing"
      acts={
        <TakeOut what="The framing" onOut={() => set({ framing: null })} onBack={() => set({ framing })} />
      }
    >
      <Remarks at="geometry.framing" />
      <Named at={at("joistDirection")}>
        <Segment
          label={nameOf(at("joistDirection"))}
          options={DIRECTIONS}
          value={framing.joistDirection}
          onChange={(joistDirection) => change({ joistDirection })}
        />
      </Named>
      <div className="zone-pairs">
        <Length
          at={at("joistSpacingIn")}
          value={framing.joistSpacingIn}
          onChange={(joistSpacingIn) => change({ joistSpacingIn })}
        />
        <Named at={at("joistSize")}>
          <Segment
            label={nameOf(at("joistSize"))}
            options={SIZES}
            value={framing.joistSize}
            onChange={(joistSize) => change({ joistSize })}
          />
        </Named>
      </div>
      <Select
        name={at("lumber")}
        label={nameOf(at("lumber"))}
        options={LUMBER}
        value={framing.lumber}
        onChange={(lumber) => change({ lumber })}
        error={refusal(at("lumber"))}
      />
      <div>
        <Checkbox
          name={at("ledger")}
          label={nameOf(at("ledger"))}
          hint="carries the joists at the house"
          value={framing.ledger}
          onChange={(ledger) => change({ ledger })}
        />
        <Remarks at={at("ledger")} />
      </div>
      <div className="zone-pairs">
        <Count at={at("beams")} most={20} value={framing.beams} onChange={(beams) => change({ beams })} />
        <Count at={at("posts")} most={200} value={framing.posts} onChange={(posts) => change({ posts })} />
        <Length
          at={at("overhangIn")}
          value={framing.overhangIn}
          onChange={(overhangIn) => change({ overhangIn })}
        />
      </div>
    </Section>
  );
}

const BORDERS = [
  { value: "0", label: "None" },
  { value: "1", label: "1 row" },
  { value: "2", label: "2 rows" },
  { value: "3", label: "3 rows" },
] as const;

/** The boards one walks on. */
export function DeckingPart() {
  const { typed, set } = useMeasuring();
  const { decking } = typed;
  if (!decking)
    return (
      <Section id="decking" title="Decking">
        <Unmeasured start="Measure the decking" onStart={() => set({ decking: newDecking() })}>
          Not measured: boards and their fasteners are not counted.
        </Unmeasured>
      </Section>
    );
  const change = (one: Partial<TypedDecking>) => set({ decking: { ...decking, ...one } });
  const at = (name: keyof TypedDecking) => `geometry.decking.${name}`;
  return (
    <Section
      id="decking"
      title="Decking"
      acts={
        <TakeOut what="The decking" onOut={() => set({ decking: null })} onBack={() => set({ decking })} />
      }
    >
      <Remarks at="geometry.decking" />
      <Named at={at("pattern")}>
        <Segment
          label={nameOf(at("pattern"))}
          options={PATTERNS}
          value={decking.pattern}
          onChange={(pattern) => change({ pattern })}
        />
      </Named>
      <Named at={at("thickness")}>
        <Segment
          label={nameOf(at("thickness"))}
          options={THICKNESSES}
          value={decking.thickness}
          onChange={(thickness) => change({ thickness })}
        />
      </Named>
      <div className="zone-pairs">
        <Length
          at={at("boardWidthIn")}
          hint="as measured, not as named"
          value={decking.boardWidthIn}
          onChange={(boardWidthIn) => change({ boardWidthIn })}
        />
        <Length at={at("gapIn")} value={decking.gapIn} onChange={(gapIn) => change({ gapIn })} />
      </div>
      <Named at={at("borderRows")}>
        <Segment
          label={nameOf(at("borderRows"))}
          options={BORDERS}
          value={`${decking.borderRows ?? 0}` as (typeof BORDERS)[number]["value"]}
          onChange={(rows) => change({ borderRows: Number(rows) })}
        />
      </Named>
    </Section>
  );
}

function Unmeasured({ children, start, onStart }: { children: string; start: string; onStart: () => void }) {
  return (
    <>
      <p className="quiet">{children}</p>
      <Button small onPress={onStart}>
        {start}
      </Button>
    </>
  );
}

/** Takes a part out of the drawing, and offers it back. */
export function TakeOut({ what, onOut, onBack }: { what: string; onOut: () => void; onBack: () => void }) {
  return (
    <Button
      small
      kind="text"
      aria-label={`Take out: ${what}`}
      onPress={() => {
        onOut();
        toast(`${what} is taken out of the drawing.`, { undo: onBack });
      }}
    >
      Take out
    </Button>
  );
}
