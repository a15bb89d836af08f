import { lengthWords } from "@ledgerboard/contracts/measure";
import type { Takeoff } from "@ledgerboard/estimating";
import { Button } from "../../ui/button.tsx";
import { plural, quantity, sentence, words } from "../../ui/format.ts";
import { Section } from "../../ui/section.tsx";
import { fullName } from "./labels.ts";
import type { FieldWords } from "./typed.ts";

type Existing = Takeoff["existing"][number];

const short = (decimal: string, places: number) => quantity(String(Number(Number(decimal).toFixed(places))));

/** What the drawing comes to, counted while it is drawn. */
export function TakeoffPanel({ counted }: { counted: Takeoff }) {
  const { areaSqft, grossAreaSqft, perimeterFt, existing } = counted;
  return (
    <Section id="takeoff" title="Takeoff" note="counted from the drawing as it stands">
      {areaSqft === null && existing.length === 0 ? (
        <p className="quiet">Nothing can be counted yet.</p>
      ) : (
        <>
          {areaSqft !== null && (
            <p className="zone-area">
              <b>{short(areaSqft, 1)} sq ft</b>
              {grossAreaSqft !== areaSqft && grossAreaSqft !== null && (
                <> of {short(grossAreaSqft, 1)} sq ft with the cut-outs</>
              )}
              {perimeterFt !== null && <>, {short(perimeterFt, 1)} ft around</>}
            </p>
          )}
          <ExistingTable existing={existing} />
          <Figures counted={counted} />
          <Pieces counted={counted} />
        </>
      )}
    </Section>
  );
}

const much = ({ quantity: amount, unit }: Existing) =>
  quantity(String(Number(Number(amount).toFixed(2))), unit);

function ExistingTable({ existing }: { existing: readonly Existing[] }) {
  if (existing.length === 0) return null;
  return (
    <table className="table zone-existing">
      <caption className="sr">What is there, by component and unit, and how it was counted</caption>
      <thead>
        <tr>
          <th scope="col">What is there</th>
          <th scope="col" className="num">
            How much
          </th>
          <th scope="col">How it was counted</th>
        </tr>
      </thead>
      <tbody>
        {existing.map((one, i) => {
          const before = existing[i - 1];
          const again = before?.component === one.component;
          return (
            <tr key={`${one.component} ${one.unit}`} data-again={again || undefined}>
              <th scope="row">
                <span className={again ? "sr" : undefined}>{sentence(words(one.component))}</span>
              </th>
              <td className="num nowrap">{much(one)}</td>
              <td>{!(again && before.how === one.how) && <small className="quiet">{one.how}</small>}</td>
            </tr>
          );
        })}
      </tbody>
    </table>
  );
}

/** Stairs and guards one by one, with the figures a code official would ask for. */
function Figures({ counted: { stairs, guards } }: { counted: Takeoff }) {
  if (stairs.length === 0 && guards.length === 0) return null;
  return (
    <ul className="plain entries zone-figures">
      {stairs.map((stair, i) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: stairs are known by their number only
        <li key={`s${i}`} className="entry">
          <b>{stairs.length > 1 ? `Stair ${i + 1}` : "Stair"}:</b> {plural(stair.risers, "rise")} of{" "}
          {lengthWords(stair.riserHeightIn)}, {plural(stair.treads, "tread")} of{" "}
          {plural(stair.treadBoards, "board")} in all, {plural(stair.stringers, "stringer")} of{" "}
          {lengthWords(stair.stringerLengthIn)}.
        </li>
      ))}
      {guards.map((guard, i) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: runs are known by their number only
        <li key={`g${i}`} className="entry">
          <b>{guards.length > 1 ? `Guard ${i + 1}` : "Guard"}:</b> {plural(guard.sections, "section")} of{" "}
          {lengthWords(guard.clearWidthIn)} between posts, {plural(guard.posts, "post")}
          {guard.gates > 0 && `, ${plural(guard.gates, "gate")}`}
          {guard.balusterGapIn !== null &&
            `; ${plural(guard.balustersPerSection, "baluster")} in each, ${lengthWords(guard.balusterGapIn)} clear when spread evenly`}
          .
        </li>
      ))}
    </ul>
  );
}

function Pieces({ counted: { pieces } }: { counted: Takeoff }) {
  if (pieces.length === 0) return null;
  return (
    <details className="zone-pieces">
      <summary>Pieces to cut, if all of it were new</summary>
      <table className="table">
        <caption className="sr">Pieces by component, section and length</caption>
        <tbody>
          {pieces.map((piece) => (
            <tr key={`${piece.component} ${piece.section} ${piece.lengthIn}`}>
              <th scope="row">{sentence(words(piece.component))}</th>
              <td>{piece.section}</td>
              <td className="num">{quantity(String(piece.count))}</td>
              <td className="num nowrap">{lengthWords(piece.lengthIn)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </details>
  );
}

/** What the takeoff remarks, each leading to its field. */
export function Findings({ findings }: { findings: readonly FieldWords[] }) {
  if (findings.length === 0) return null;
  return (
    <div className="notice zone-findings" role="status">
      <p>
        {sentence(plural(findings.length, "remark"))} on the drawing. It can be saved all the same; what they
        name is not counted.
      </p>
      <ul>
        {findings.map(({ field, words: text }) => (
          <li key={`${field} ${text}`}>
            <Button small kind="text" onPress={() => goTo(field)}>
              {fullName(field)}
            </Button>{" "}
            {text}
          </li>
        ))}
      </ul>
    </div>
  );
}

/** Puts the focus on a field of the drawing, or on the first within the part that is named. */
export function goTo(path: string): void {
  const fields = [...document.querySelectorAll<HTMLElement>(".zone-fields [name]")];
  const exact = fields.find((one) => one.getAttribute("name") === path);
  const within = fields.find((one) => one.getAttribute("name")?.startsWith(path));
  const part = document.getElementById(/^geometry\.(\w+)/.exec(path)?.[1] ?? "surface");
  const found = exact ?? within ?? part?.querySelector<HTMLElement>("button");
  const folded = found?.closest("details");
  if (folded) folded.open = true;
  found?.scrollIntoView({ block: "center" });
  found?.focus({ preventScroll: true });
}
