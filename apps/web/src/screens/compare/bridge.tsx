import "./bridge.css";
import { useId } from "react";
import { money, moneyChange, sentence } from "../../ui/format.ts";
import { BridgeAcross } from "./bridge-across.tsx";
import { BridgeDown } from "./bridge-down.tsx";
import type { Span } from "./spans.ts";
import { useWidth } from "./use-width.ts";

/** Where a board would get less room than its price needs, the bridge turns on its side. */
const BOARD_ROOM = 122;

/**
 * The way from one price to the other. Two piers carry it; between them a board laid on is money added, a board
 * cut away (dashed, empty) is money taken off. The same figures stand in the table below it.
 */
export function Bridge({ boards, still }: { boards: readonly Span[]; still: readonly string[] }) {
  const [frame, width] = useWidth<HTMLElement>(1100);
  const id = useId();
  const told = boards.map(({ kind, name, cents }) =>
    kind === "pier" ? `${name} ${money(cents)}` : `${name} ${moneyChange(cents)}`,
  );
  const Drawing = width < boards.length * BOARD_ROOM ? BridgeDown : BridgeAcross;
  return (
    <figure className="bridge" ref={frame}>
      <Drawing boards={boards} width={width} label={`The price as a bridge: ${told.join(", ")}.`} />
      <figcaption>
        <details className="bridge-figures">
          <summary>The bridge in figures</summary>
          <table className="table" id={id}>
            <caption className="sr">The way from one price to the other</caption>
            <thead>
              <tr>
                <th scope="col">Step</th>
                <th scope="col" className="num">
                  Change
                </th>
                <th scope="col" className="num">
                  Price then
                </th>
              </tr>
            </thead>
            <tbody>
              {boards.map((board) => (
                <tr key={board.key}>
                  <th scope="row">
                    {sentence(board.name)}
                    {board.note && <small className="quiet block">{board.note}</small>}
                  </th>
                  <td className="num">{board.kind === "pier" ? "" : moneyChange(board.cents)}</td>
                  <td className="num">{money(board.level)}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </details>
        {still.length > 0 && <small className="quiet">Moved nothing: {still.join("; ")}.</small>}
      </figcaption>
    </figure>
  );
}
