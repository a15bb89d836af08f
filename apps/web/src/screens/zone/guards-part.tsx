import type { ZoneGeometry } from "@ledgerboard/contracts/geometry";
import { formatInches } from "@ledgerboard/contracts/measure";
import { useState } from "react";
import { Button } from "../../ui/button.tsx";
import { Checkbox, Segment } from "../../ui/choices.tsx";
import { plural } from "../../ui/format.ts";
import { Section } from "../../ui/section.tsx";
import { useMeasuring } from "./context.ts";
import { Count, Length, Named } from "./fields.tsx";
import { TakeOut } from "./frame-part.tsx";
import { FILLS, nameOf } from "./labels.ts";
import { GuardPicture } from "./pictures.tsx";
import { runsAround } from "./runs.ts";
import { ringOf, sidesOf } from "./shape.ts";
import { newGuard } from "./starts.ts";
import { fromTyped, type TypedGuard } from "./typed.ts";

const MOST = 30;
const SHARED = [
  { value: "0", label: "None" },
  { value: "1", label: "One" },
  { value: "2", label: "Both" },
] as const;

/** Every run of guard: railing between two end posts. */
export function GuardsPart() {
  const { typed, set } = useMeasuring();
  const { guards } = typed;
  const drawn = fromTyped(typed).geometry;
  const runs = runsAround(sidesOf(ringOf(drawn.outline)));
  /** The next run is usually built like the last one. */
  const next = (): TypedGuard => {
    const last = guards.at(-1);
    return last ? { ...last, lengthIn: "", sharedPosts: 0, gates: 0 } : newGuard();
  };
  const around = () =>
    set({
      guards: runs.map(({ lengthIn, sharedPosts }) => ({
        ...newGuard(formatInches(lengthIn)),
        sharedPosts,
      })),
    });
  return (
    <Section id="guards" title="Guards">
      {guards.length === 0 && <p className="quiet">No guard in this zone.</p>}
      {guards.map((guard, i) => (
        <Run
          // biome-ignore lint/suspicious/noArrayIndexKey: runs are known by their number only
          key={i}
          i={i}
          guard={guard}
          drawn={drawn.guards[i]}
          alone={guards.length === 1}
          onChange={(one) => set({ guards: guards.map((g, k) => (k === i ? { ...g, ...one } : g)) })}
          onOut={() => set({ guards: guards.filter((_, k) => k !== i) })}
          onBack={() => set({ guards })}
        />
      ))}
      <div className="row">
        {guards.length < MOST && (
          <Button small onPress={() => set({ guards: [...guards, next()] })}>
            {guards.length === 0 ? "Add a guard run" : "Add a run like the last"}
          </Button>
        )}
        {guards.length === 0 && runs.length > 0 && runs.length <= MOST && (
          <Button small onPress={around}>
            A run on every open side
          </Button>
        )}
      </div>
    </Section>
  );
}

interface RunProps {
  i: number;
  guard: TypedGuard;
  drawn: ZoneGeometry["guards"][number] | undefined;
  /** There is no other run to look at. */
  alone: boolean;
  onChange: (change: Partial<TypedGuard>) => void;
  onOut: () => void;
  onBack: () => void;
}

function Run({ i, guard, drawn, alone, onChange, onOut, onBack }: RunProps) {
  const at = (name: keyof TypedGuard) => `geometry.guards[${i}].${name}`;
  const [opened] = useState(alone || guard.lengthIn === "");
  const remarks = useMeasuring().remarksIn(`geometry.guards[${i}]`);
  return (
    <details className="zone-item" open={opened}>
      <summary>
        <b>Guard run {i + 1}</b> {runWords(guard)}
        {remarks > 0 && <span className="zone-remark">{plural(remarks, "remark")}</span>}
      </summary>
      <div className="zone-pairs">
        <Length at={at("lengthIn")} value={guard.lengthIn} onChange={(lengthIn) => onChange({ lengthIn })} />
        <Length at={at("heightIn")} value={guard.heightIn} onChange={(heightIn) => onChange({ heightIn })} />
        <Length
          at={at("postSpacingIn")}
          value={guard.postSpacingIn}
          onChange={(postSpacingIn) => onChange({ postSpacingIn })}
        />
        <Named at={at("sharedPosts")}>
          <Segment
            label={nameOf(at("sharedPosts"))}
            options={SHARED}
            value={`${guard.sharedPosts ?? 0}` as "0"}
            onChange={(n) => onChange({ sharedPosts: Number(n) })}
          />
        </Named>
      </div>
      <Named at={at("infill")}>
        <Segment
          label={nameOf(at("infill"))}
          options={FILLS}
          value={guard.infill}
          onChange={(infill) => onChange({ infill })}
        />
      </Named>
      <div className="zone-pairs">
        {guard.infill === "balusters" && (
          <>
            <Length
              at={at("balusterWidthIn")}
              value={guard.balusterWidthIn}
              onChange={(balusterWidthIn) => onChange({ balusterWidthIn })}
            />
            <Length
              at={at("clearGapIn")}
              value={guard.clearGapIn}
              onChange={(clearGapIn) => onChange({ clearGapIn })}
            />
          </>
        )}
        <Count at={at("rails")} most={10} value={guard.rails} onChange={(rails) => onChange({ rails })} />
        <Count at={at("gates")} most={10} value={guard.gates} onChange={(gates) => onChange({ gates })} />
        {(guard.gates ?? 0) > 0 && (
          <Length
            at={at("gateWidthIn")}
            value={guard.gateWidthIn}
            onChange={(gateWidthIn) => onChange({ gateWidthIn })}
          />
        )}
      </div>
      <div className="row">
        <Checkbox
          name={at("cap")}
          label={nameOf(at("cap"))}
          value={guard.cap}
          onChange={(cap) => onChange({ cap })}
        />
        <Checkbox
          name={at("onStair")}
          label={nameOf(at("onStair"))}
          value={guard.onStair}
          onChange={(onStair) => onChange({ onStair })}
        />
      </div>
      {drawn && <GuardPicture guard={drawn} n={i + 1} />}
      <TakeOut what={`Guard run ${i + 1}`} onOut={onOut} onBack={onBack} />
    </details>
  );
}

/** "12' of balusters, 36" high". */
const runWords = ({ lengthIn, heightIn, infill, onStair }: TypedGuard): string => {
  const fill = FILLS.find(({ value }) => value === infill)?.label.toLowerCase();
  return [lengthIn || "no length yet", fill, heightIn && `${heightIn} high`, onStair && "on a stair"]
    .filter(Boolean)
    .join(", ");
};
