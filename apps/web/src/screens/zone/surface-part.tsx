import { Button } from "../../ui/button.tsx";
import { Segment } from "../../ui/choices.tsx";
import { Section } from "../../ui/section.tsx";
import { toast } from "../../ui/toast.tsx";
import { useMeasuring } from "./context.ts";
import { Corners } from "./corners.tsx";
import { Length, Named, Remarks } from "./fields.tsx";
import { boundsOf, type Outline, reshape, ringOf } from "./shape.ts";
import { fromTyped, type TypedOutline, typedOutline, typedPoint } from "./typed.ts";

type Shape = Outline["shape"] | "none";
const SHAPES: { value: Shape; label: string }[] = [
  { value: "none", label: "None" },
  { value: "rectangle", label: "Rectangle" },
  { value: "l_shape", label: "L-shape" },
  { value: "polygon", label: "Corners" },
];

type Shelf = Partial<Record<Outline["shape"], TypedOutline>>;
interface Props {
  /** Outlines of the shapes tried before. */
  shelf: Shelf;
  onPut: (outline: TypedOutline | null, shelf: Shelf) => void;
}

/** The walking surface seen from above, and the holes in it. */
export function SurfacePart({ shelf, onPut }: Props) {
  const { typed, set } = useMeasuring();
  const { outline } = typed;
  const numbers = (one: TypedOutline | null) => fromTyped({ ...typed, outline: one }).geometry.outline;
  const choose = (shape: Shape) => {
    const put = outline ? { ...shelf, [outline.shape]: outline } : shelf;
    if (shape === "none") onPut(null, put);
    else {
      const kept = put[shape];
      const here = numbers(outline);
      // Only on the way back: once this shape was changed, the earlier one says something else.
      const untouched =
        !here || JSON.stringify(reshape(numbers(kept ?? null), here.shape)) === JSON.stringify(here);
      onPut(kept && untouched ? kept : typedOutline(reshape(here, shape)), put);
    }
  };
  const change = (next: TypedOutline) => set({ outline: next });
  return (
    <Section id="surface" title="Surface" note="the walking surface from above, measured out from the house">
      <Named at="geometry.outline" label="Shape">
        <Segment label="Shape" options={SHAPES} value={outline?.shape ?? "none"} onChange={choose} />
      </Named>
      {outline?.shape === "polygon" && (
        <Corners
          at="geometry.outline"
          points={outline.points}
          onChange={(points) => change({ ...outline, points })}
        />
      )}
      {outline && outline.shape !== "polygon" && (
        <div className="zone-pairs">
          <Length
            at="geometry.outline.lengthIn"
            value={outline.lengthIn}
            onChange={(lengthIn) => change({ ...outline, lengthIn })}
          />
          <Length
            at="geometry.outline.widthIn"
            value={outline.widthIn}
            onChange={(widthIn) => change({ ...outline, widthIn })}
          />
          {outline.shape === "l_shape" && (
            <>
              <Length
                at="geometry.outline.notchLengthIn"
                value={outline.notchLengthIn}
                onChange={(notchLengthIn) => change({ ...outline, notchLengthIn })}
              />
              <Length
                at="geometry.outline.notchWidthIn"
                value={outline.notchWidthIn}
                onChange={(notchWidthIn) => change({ ...outline, notchWidthIn })}
              />
            </>
          )}
        </div>
      )}
      {!outline && (
        <p className="quiet">
          No surface is drawn: right for a stair or a railing alone. Choose a shape to draw one.
        </p>
      )}
      <div className="zone-pairs">
        <Length
          at="geometry.heightIn"
          optional
          value={typed.heightIn}
          onChange={(heightIn) => set({ heightIn })}
        />
      </div>
      <Cutouts />
    </Section>
  );
}

const HOLE_IN = 24;

function Cutouts() {
  const { typed, set } = useMeasuring();
  const { cutouts } = typed;
  const ring = ringOf(fromTyped(typed).geometry.outline);
  const add = () => {
    const { left, right, near, far } = boundsOf(ring);
    const [x, y] = [Math.round((left + right - HOLE_IN) / 2), Math.round((near + far - HOLE_IN) / 2)];
    const points = [
      typedPoint(x, y),
      typedPoint(x + HOLE_IN, y),
      typedPoint(x + HOLE_IN, y + HOLE_IN),
      typedPoint(x, y + HOLE_IN),
    ];
    set({ cutouts: [...cutouts, { points }] });
  };
  if (cutouts.length === 0 && ring.length === 0) return null;
  return (
    <div className="zone-list">
      {cutouts.map((cutout, i) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: cut-outs are known by their number only
        <fieldset key={i} className="zone-item">
          <legend>Cut-out {i + 1}</legend>
          <Remarks at={`geometry.cutouts[${i}]`} />
          <Corners
            at={`geometry.cutouts[${i}]`}
            points={cutout.points}
            onChange={(points) =>
              set({ cutouts: cutouts.map((one, k) => (k === i ? { ...one, points } : one)) })
            }
          />
          <Button
            small
            kind="text"
            onPress={() => {
              set({ cutouts: cutouts.filter((_, k) => k !== i) });
              toast(`Cut-out ${i + 1} is taken out.`, { undo: () => set({ cutouts }) });
            }}
          >
            Take cut-out {i + 1} out
          </Button>
        </fieldset>
      ))}
      <Remarks at="geometry.cutouts" />
      {cutouts.length < 10 && ring.length > 0 && (
        <div className="zone-add">
          <Button small onPress={add}>
            Add a cut-out
          </Button>
          <small className="quiet">a tree, a hatch, a hot tub; drag it to its place</small>
        </div>
      )}
    </div>
  );
}
