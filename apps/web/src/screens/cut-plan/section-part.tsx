import { formatInches, lengthWords } from "@ledgerboard/contracts/measure";
import { money, percent, plural, quantity } from "../../ui/format.ts";
import { Section } from "../../ui/section.tsx";
import { useWidth } from "../compare/use-width.ts";
import { BoardBar } from "./bar.tsx";
import {
  type CutBoard,
  type CutSection,
  cutWords,
  estimateWords,
  inCuttingOrder,
  layoutWords,
  proofWords,
  sectionName,
} from "./tell.ts";

/** One material: what to buy of it, and how to cut it. */
export function SectionPart({ section }: { section: CutSection }) {
  const boards = section.buy.reduce((sum, { count }) => sum + count, 0);
  return (
    <Section
      title={sectionName(section)}
      className="cut-section"
      note={section.fault ? undefined : `${plural(boards, "board")}, ${money(section.cost)}`}
    >
      {section.fault ? (
        <p className="notice alarm">
          <b>No plan:</b> {section.fault}
        </p>
      ) : (
        <>
          <Buy section={section} />
          <CutList boards={inCuttingOrder(section.boards)} />
          <ul className="cut-facts">
            <li>
              <b>{percent(section.wasteBp)} waste</b> of what is bought, saw cuts and trim included.
            </li>
            <li>{proofWords(section)}</li>
            {layoutWords(section) && <li>{layoutWords(section)}</li>}
            <li className="no-print">{estimateWords(section)}</li>
          </ul>
          <Rows rows={section.rows} />
        </>
      )}
    </Section>
  );
}

function Buy({ section: { buy, cost } }: { section: CutSection }) {
  return (
    <table className="table cut-buy">
      <caption className="sr">Boards to buy, by length</caption>
      <thead>
        <tr>
          <th scope="col">Buy</th>
          <th scope="col" className="num">
            Boards
          </th>
          <th scope="col" className="num">
            Cost
          </th>
        </tr>
      </thead>
      <tbody>
        {buy.map((one) => (
          <tr key={one.stockIn}>
            <th scope="row">{lengthWords(one.stockIn)}</th>
            <td className="num">{quantity(String(one.count))}</td>
            <td className="num">{money(one.cost)}</td>
          </tr>
        ))}
      </tbody>
      {buy.length > 1 && (
        <tfoot>
          <tr>
            <td>All</td>
            <td className="num">{quantity(String(buy.reduce((sum, { count }) => sum + count, 0)))}</td>
            <td className="num">{money(cost)}</td>
          </tr>
        </tfoot>
      )}
    </table>
  );
}

function CutList({ boards }: { boards: readonly CutBoard[] }) {
  const [frame, width] = useWidth<HTMLOListElement>(700);
  const longest = Math.max(...boards.map(({ stockIn }) => stockIn));
  return (
    <>
      <h3>Cut</h3>
      <ol ref={frame} className="plain cut-list">
        {boards.map((board, i) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: a plan is shown as a whole and never changed in place
          <li key={i}>
            <p className="cut-of">
              <b>{board.count} ×</b> {lengthWords(board.stockIn)}
            </p>
            <BoardBar board={board} width={width} longestIn={longest} />
            <ul className="plain cut-what">
              {cutWords(board.cuts).map((cut) => (
                <li key={`${cut.lengthIn} ${cut.for}`}>
                  <b>{cut.text}</b> <span className="quiet">{cut.for}</span>
                </li>
              ))}
              {board.leftIn > 0 && (
                <li className="quiet">
                  left over <b>{formatInches(board.leftIn)}</b>
                </li>
              )}
            </ul>
          </li>
        ))}
      </ol>
    </>
  );
}

function Rows({ rows }: Pick<CutSection, "rows">) {
  if (rows.length === 0) return null;
  const jointed = rows.filter(({ piecesIn }) => piecesIn.length > 1).length;
  return (
    <details className="cut-rows">
      <summary>
        Rows of decking, from the house out: {rows.length}
        {jointed > 0 && `, ${jointed} with joints`}
      </summary>
      <table className="table">
        <caption className="sr">Rows of decking with the pieces of each, in order</caption>
        <thead>
          <tr>
            <th scope="col">Row</th>
            <th scope="col">Zone</th>
            <th scope="col">Pieces in order, joints over joists</th>
          </tr>
        </thead>
        <tbody>
          {rows.map((row) => (
            <tr key={`${row.zone} ${row.row}`}>
              <th scope="row">{row.row}</th>
              <td>{row.zone}</td>
              <td>{row.piecesIn.map(formatInches).join(" + ")}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </details>
  );
}
