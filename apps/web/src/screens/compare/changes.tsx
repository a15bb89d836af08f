import type { ScopeLine } from "@ledgerboard/contracts/estimates";
import { Flag } from "../../ui/flag.tsx";
import { money, moneyChange, plural, sentence, words } from "../../ui/format.ts";
import { type Change, hoursChange, KIND_NAMES, KINDS, type Kind, lineWords } from "./tell.ts";

interface Props {
  changes: readonly Change[];
  from: string;
  to: string;
}

/** Line by line what became of the scope, grouped by what happened; what stayed the same is folded away. */
export function Changes({ changes, from, to }: Props) {
  const groups = KINDS.filter((kind) => kind !== "unchanged" && changes.some((one) => one.kind === kind));
  const same = changes.filter(({ kind }) => kind === "unchanged");
  return (
    <>
      {groups.length === 0 ? (
        <p>Not one line differs.</p>
      ) : (
        <ChangeTable caption="What changed, line by line" {...{ groups, changes, from, to }} />
      )}
      {same.length > 0 && (
        <details className="cmp-same">
          <summary>{sentence(plural(same.length, "line"))} unchanged</summary>
          <ChangeTable
            caption="Lines that stayed the same"
            groups={["unchanged"]}
            {...{ changes, from, to }}
          />
        </details>
      )}
    </>
  );
}

function ChangeTable({
  caption,
  groups,
  changes,
  from,
  to,
}: Props & { caption: string; groups: readonly Kind[] }) {
  return (
    <div className="table-wrap">
      <table className="table stack cmp-table">
        <caption className="sr">{caption}</caption>
        <colgroup>
          <col className="cmp-c-what" />
          <col className="cmp-c-side" />
          <col className="cmp-c-side" />
          <col className="cmp-c-why" />
          <col className="cmp-c-num" />
          <col className="cmp-c-num" />
        </colgroup>
        <thead>
          <tr>
            <th scope="col">Zone and component</th>
            <th scope="col">{sentence(from)}</th>
            <th scope="col">{sentence(to)}</th>
            <th scope="col">Why</th>
            <th scope="col" className="num">
              Hours
            </th>
            <th scope="col" className="num">
              Price
            </th>
          </tr>
        </thead>
        {groups.map((kind) => (
          <Group
            key={kind}
            kind={kind}
            changes={changes.filter((one) => one.kind === kind)}
            {...{ from, to }}
          />
        ))}
      </table>
    </div>
  );
}

function Group({ kind, changes, from, to }: Props & { kind: Kind }) {
  const sum = changes.reduce((cents, { delta }) => cents + delta.cents, 0);
  return (
    <tbody>
      {kind !== "unchanged" && (
        <tr className="cmp-group">
          <th scope="rowgroup" colSpan={5}>
            {KIND_NAMES[kind]}
            <span className="quiet">{plural(changes.length, "line")}</span>
          </th>
          <td className="num">{moneyChange(sum)}</td>
        </tr>
      )}
      {changes.map((change) => (
        <Row key={(change.after ?? change.before)?.id} change={change} from={from} to={to} />
      ))}
    </tbody>
  );
}

function Row({ change, from, to }: { change: Change; from: string; to: string }) {
  const { before, after, structural, kind } = change;
  const line = after ?? before;
  if (!line) return null;
  const gone = before !== null && (after === null || lineWords(before) !== lineWords(after));
  return (
    <tr>
      <th scope="row">
        <span>
          {line.zoneName}, {words(line.component)}
          {line.description && <small className="quiet block">{line.description}</small>}
          {structural && kind !== "unchanged" && kind !== "evidence" && (
            <span className="block">
              <Flag>carries load</Flag>
            </span>
          )}
        </span>
      </th>
      <td data-label={sentence(from)}>
        <Side line={before} other={after} gone={gone} />
      </td>
      <td data-label={sentence(to)}>
        <Side line={after} other={before} />
      </td>
      <td data-label="Why" className="cmp-why">
        <span>
          {after?.reasonCode && <b>{sentence(words(after.reasonCode))}</b>}
          {after?.reason && <span className="block">{after.reason}</span>}
          {!after?.reasonCode && !after?.reason && <span className="quiet">—</span>}
        </span>
      </td>
      <td className="num" data-label="Hours">
        {hoursChange(change.deltaHours)}
      </td>
      <td className="num" data-label="Price">
        <span>
          <b>{moneyChange(change.delta)}</b>
          {before && after && change.delta.cents !== 0 && (
            <small className="quiet block">now {money(after.price.price)}</small>
          )}
        </span>
      </td>
    </tr>
  );
}

/** What one revision says of a line; how it is known only where that is news. */
function Side({ line, other, gone }: { line: ScopeLine | null; other: ScopeLine | null; gone?: boolean }) {
  if (!line) return <span className="quiet">—</span>;
  const told = lineWords(line);
  return (
    <span>
      {gone ? <s>{told}</s> : told}
      {line.evidence !== other?.evidence && <small className="quiet block">{words(line.evidence)}</small>}
    </span>
  );
}
