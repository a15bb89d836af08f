import { Button } from "../../ui/button.tsx";
import { Checkbox, Segment } from "../../ui/choices.tsx";
import { Section } from "../../ui/section.tsx";
import { useMeasuring } from "./context.ts";
import { Count, Length, Named } from "./fields.tsx";
import { TakeOut } from "./frame-part.tsx";
import { nameOf } from "./labels.ts";
import { StairPicture } from "./pictures.tsx";
import { newStair } from "./starts.ts";
import { fromTyped, type TypedStair } from "./typed.ts";

const BOARDS = [1, 2, 3, 4].map((n) => ({ value: `${n}`, label: `${n}` }));

/** Every stair of the zone. */
export function StairsPart() {
  const { typed, set } = useMeasuring();
  const { stairs } = typed;
  const drawn = fromTyped(typed).geometry.stairs;
  const put = (i: number, one: Partial<TypedStair>) =>
    set({ stairs: stairs.map((stair, k) => (k === i ? { ...stair, ...one } : stair)) });
  return (
    <Section id="stairs" title="Stairs">
      {stairs.length === 0 && <p className="quiet">No stair in this zone.</p>}
      {stairs.map((stair, i) => {
        const at = (name: keyof TypedStair) => `geometry.stairs[${i}].${name}`;
        return (
          // biome-ignore lint/suspicious/noArrayIndexKey: stairs are known by their number only
          <fieldset key={i} className="zone-item">
            <legend>Stair {i + 1}</legend>
            <div className="zone-pairs">
              <Length
                at={at("totalRiseIn")}
                hint="from the ground or landing to the walking surface"
                value={stair.totalRiseIn}
                onChange={(totalRiseIn) => put(i, { totalRiseIn })}
              />
              <Count
                at={at("risers")}
                optional
                hint="empty: as few as 7 3/4 in each allows"
                most={60}
                value={stair.risers}
                onChange={(risers) => put(i, { risers: risers === 0 ? null : risers })}
              />
              <Length
                at={at("treadDepthIn")}
                value={stair.treadDepthIn}
                onChange={(treadDepthIn) => put(i, { treadDepthIn })}
              />
              <Length at={at("widthIn")} value={stair.widthIn} onChange={(widthIn) => put(i, { widthIn })} />
              <Count
                at={at("stringers")}
                most={40}
                value={stair.stringers}
                onChange={(stringers) => put(i, { stringers })}
              />
              <Named at={at("boardsPerTread")}>
                <Segment
                  label={nameOf(at("boardsPerTread"))}
                  options={BOARDS}
                  value={`${stair.boardsPerTread ?? 1}`}
                  onChange={(n) => put(i, { boardsPerTread: Number(n) })}
                />
              </Named>
            </div>
            <Checkbox
              name={at("closedRisers")}
              label={nameOf(at("closedRisers"))}
              value={stair.closedRisers}
              onChange={(closedRisers) => put(i, { closedRisers })}
            />
            {drawn[i] && <StairPicture stair={drawn[i]} n={i + 1} />}
            <TakeOut
              what={`Stair ${i + 1}`}
              onOut={() => set({ stairs: stairs.filter((_, k) => k !== i) })}
              onBack={() => set({ stairs })}
            />
          </fieldset>
        );
      })}
      {stairs.length < 10 && (
        <Button small onPress={() => set({ stairs: [...stairs, newStair(typed.heightIn)] })}>
          Add a stair
        </Button>
      )}
    </Section>
  );
}
