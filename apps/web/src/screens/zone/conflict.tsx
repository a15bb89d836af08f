import type { Zone } from "@ledgerboard/contracts/jobs";
import { takeoff } from "@ledgerboard/estimating";
import { useMemo } from "react";
import { Button } from "../../ui/button.tsx";
import { words } from "../../ui/format.ts";
import { Board } from "./board.tsx";
import type { ZoneDraft } from "./draft.ts";
import { fullName, valueWords } from "./labels.ts";
import { startOf } from "./starts.ts";
import { flatten, fromTyped } from "./typed.ts";

interface Props {
  zone: Zone;
  draft: ZoneDraft;
  onMine: () => void;
  onTheirs: () => void;
}

const MOST_ROWS = 40;

/** Somebody saved other measures meanwhile: both side by side, and the choice. */
export function Conflict({ zone, draft, onMine, onTheirs }: Props) {
  const { rows, mine, theirs } = useMemo(() => {
    const typed = startOf(zone);
    const [own, stored] = [flatten(draft.typed), flatten(typed)];
    const paths = [...new Set([...own.keys(), ...stored.keys()])];
    const differing = paths
      .filter((path) => own.get(path) !== stored.get(path))
      .map((path) => ({
        path,
        name: fullName(path),
        mine: valueWords(path, own.get(path)),
        theirs: valueWords(path, stored.get(path)),
      }));
    if (draft.evidence !== zone.evidence)
      differing.push({
        path: "evidence",
        name: "How the measures are known",
        mine: words(draft.evidence),
        theirs: words(zone.evidence),
      });
    const drawn = ({ geometry }: ReturnType<typeof fromTyped>) => ({
      geometry,
      counted: takeoff({ kind: zone.kind, geometry, lengthFt: null, widthFt: null, heightFt: null }),
    });
    return { rows: differing, mine: drawn(fromTyped(draft.typed)), theirs: drawn(fromTyped(typed)) };
  }, [zone, draft]);
  return (
    <section className="notice zone-conflict" role="alert" aria-label="Changed meanwhile">
      <p>Somebody saved other measures of this zone meanwhile. Yours are kept here and not saved.</p>
      <div className="zone-conflict-pair">
        <div>
          <h3>Yours</h3>
          <Board name={`${zone.name}, as you drew it`} geometry={mine.geometry} counted={mine.counted} />
        </div>
        <div>
          <h3>Saved meanwhile</h3>
          <Board
            name={`${zone.name}, as saved meanwhile`}
            geometry={theirs.geometry}
            counted={theirs.counted}
          />
        </div>
      </div>
      <table className="table">
        <thead>
          <tr>
            <th scope="col">Where they differ</th>
            <th scope="col">Yours</th>
            <th scope="col">Saved meanwhile</th>
          </tr>
        </thead>
        <tbody>
          {rows.slice(0, MOST_ROWS).map((row) => (
            <tr key={row.path}>
              <th scope="row">{row.name}</th>
              <td>{row.mine}</td>
              <td>{row.theirs}</td>
            </tr>
          ))}
        </tbody>
      </table>
      {rows.length > MOST_ROWS && <p>And {rows.length - MOST_ROWS} more fields.</p>}
      <div className="row">
        <Button kind="main" onPress={onMine}>
          Go on with mine
        </Button>
        <Button onPress={onTheirs}>Take theirs</Button>
        <small>Going on with yours saves over theirs when you next save.</small>
      </div>
    </section>
  );
}
