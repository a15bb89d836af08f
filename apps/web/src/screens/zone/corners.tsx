import { Button } from "../../ui/button.tsx";
import { readInches } from "../../ui/inches.ts";
import { toast } from "../../ui/toast.tsx";
import { useMeasuring } from "./context.ts";
import { Length, Remarks } from "./fields.tsx";
import { type TypedPoint, typedPoint } from "./typed.ts";

const MOST = 60;

interface Props {
  /** Path of what has the corners: the outline or a cut-out. */
  at: string;
  points: TypedPoint[];
  onChange: (points: TypedPoint[]) => void;
}

const place = ({ x, y }: TypedPoint) => ({
  x: readInches(x, "ft", true) ?? 0,
  y: readInches(y, "ft", true) ?? 0,
});

/** The points with one more, halfway along side `i`. */
export function withCorner(points: TypedPoint[], i: number): TypedPoint[] {
  const [from, to] = [points[i], points[(i + 1) % points.length]];
  if (!from || !to) return points;
  const [a, b] = [place(from), place(to)];
  const between = typedPoint(Math.round((a.x + b.x) / 2), Math.round((a.y + b.y) / 2));
  return [...points.slice(0, i + 1), between, ...points.slice(i + 1)];
}

/** Corners by their places: along the house, and out from it. */
export function Corners({ at, points, onChange }: Props) {
  const { findings } = useMeasuring();
  const remove = (i: number) => {
    onChange(points.filter((_, k) => k !== i));
    toast(`Corner ${i + 1} is taken out.`, { undo: () => onChange(points) });
  };
  return (
    <div className="zone-corners">
      <p className="quiet">
        <small>In order around the edge. Drag them on the drawing, or move one with the arrow keys.</small>
      </p>
      <Remarks at={`${at}.points`} />
      <p className="zone-corner-head" aria-hidden="true">
        <span>Along the house</span>
        <span>Out from it</span>
      </p>
      <ol className="plain">
        {points.map((point, i) => {
          const path = `${at}.points[${i}]`;
          const put = (change: Partial<TypedPoint>) =>
            onChange(points.map((one, k) => (k === i ? { ...one, ...change } : one)));
          return (
            // biome-ignore lint/suspicious/noArrayIndexKey: corners are known by their number only
            <li key={i}>
              <b className="zone-corner-no" aria-hidden="true">
                {i + 1}
              </b>
              <Length
                at={`${path}.x`}
                label={`Corner ${i + 1}, along`}
                value={point.x}
                onChange={(x) => put({ x })}
              />
              <Length
                at={`${path}.y`}
                label={`Corner ${i + 1}, out`}
                value={point.y}
                onChange={(y) => put({ y })}
              />
              <span className="zone-corner-acts">
                <Button
                  small
                  kind="text"
                  aria-label={`Add a corner after ${i + 1}`}
                  isDisabled={points.length >= MOST}
                  onPress={() => onChange(withCorner(points, i))}
                >
                  Add after
                </Button>
                <Button
                  small
                  kind="text"
                  aria-label={`Take corner ${i + 1} out`}
                  isDisabled={points.length <= 3}
                  onPress={() => remove(i)}
                >
                  Take out
                </Button>
              </span>
              {findings(path).length > 0 && (
                <span className="zone-corner-remark">
                  <Remarks at={path} />
                </span>
              )}
            </li>
          );
        })}
      </ol>
      {points.length <= 3 && (
        <small className="quiet">An outline has at least three corners, so none can be taken out.</small>
      )}
    </div>
  );
}
