import type { Finding } from "@ledgerboard/contracts/assessment";
import type { ReactNode } from "react";
import { useSession } from "../../app/session.ts";
import { Button } from "../../ui/button.tsx";
import { count as inWords, moment, plural } from "../../ui/format.ts";
import { countOf, type Severity } from "./plausible.ts";
import { jumpTo, useRemarking } from "./remarks-context.ts";

const SEVERITY_WORDS: Record<Severity, string> = {
  blocking: "In the way",
  warning: "Look again",
  note: "Note",
};
const COUNT_WORDS: Record<Severity, (count: number) => string> = {
  blocking: (count) => `${plural(count, "remark")} in the way`,
  warning: (count) => `${inWords(count)} to look at again`,
  note: (count) => plural(count, "note"),
};

/** The weight of a remark as a shape: a filled square bars the way, a triangle warns, a ring only tells. */
export function Shape({ severity }: { severity: Severity }) {
  return (
    <svg className={`est-shape ${severity}`} viewBox="0 0 16 16" aria-hidden="true">
      {severity === "blocking" && <rect x="1" y="1" width="14" height="14" />}
      {severity === "blocking" && <path className="cut" d="M8 3.4V9M8 11V12.8" />}
      {severity === "warning" && <path d="M8 1.6L15 14.4H1Z" />}
      {severity === "note" && <circle cx="8" cy="8" r="5.6" />}
    </svg>
  );
}

/** Remarks of one place, the weightiest first. */
export function Remarks({ findings, label }: { findings: readonly Finding[]; label: string }) {
  if (findings.length === 0) return null;
  return (
    <ul className="plain est-remarks" aria-label={label}>
      {findings.map((finding) => (
        <Remark key={finding.key} finding={finding} />
      ))}
    </ul>
  );
}

function Remark({ finding }: { finding: Finding }) {
  const { severity, words, source, passed, key } = finding;
  return (
    <li className={`est-remark ${passed ? "passed" : severity}`} data-remark={key} tabIndex={-1}>
      <Shape severity={severity} />
      <div>
        <b className="est-severity">{SEVERITY_WORDS[severity]}.</b> {words}
        <small className="quiet block">{source}</small>
        {passed && <Passed passed={passed} />}
        <Answer finding={finding} />
      </div>
    </li>
  );
}

function Passed({ passed }: { passed: NonNullable<Finding["passed"]> }) {
  const { company } = useSession();
  return (
    <small className="block est-passed">
      Let pass by {passed.by}, {moment(passed.at, company.timezone)}: {passed.why}
    </small>
  );
}

/** To let it pass with a reason, or to take the reason back. */
function Answer({ finding }: { finding: Finding }) {
  const { known, ask, takeBack, editable } = useRemarking();
  if (!editable) return null;
  if (finding.passed)
    return (
      <Button kind="text" small onPress={() => takeBack(finding)}>
        Take back
      </Button>
    );
  if (finding.severity === "note") return null;
  if (!known.has(finding.key))
    return <small className="quiet">It can be let pass once what is typed is saved.</small>;
  return (
    <Button kind="text" small onPress={() => ask(finding)}>
      Let it pass, because…
    </Button>
  );
}

/** How many remarks stand, by weight; each leads to its place. */
export function RemarksSummary({
  findings,
  placeOf,
  pending,
}: {
  findings: readonly Finding[];
  /** "Lower deck, decking". */
  placeOf: (finding: Finding) => string;
  /** What the company's past says is not here yet. */
  pending: ReactNode;
}) {
  const counts = countOf(findings);
  const passed = findings.filter((finding) => finding.passed).length;
  const blocking = counts.find(({ severity }) => severity === "blocking")?.open ?? [];
  const others = counts.flatMap(({ severity, open }) => (severity === "blocking" ? [] : open));
  return (
    <section className="est-sum-remarks no-print" aria-label="Remarks on the estimate">
      <p className="est-counts" role="status">
        {counts.length === 0 && "No remarks."}
        {counts.map(({ severity, open }) => (
          <span key={severity} className={severity}>
            <Shape severity={severity} />
            {COUNT_WORDS[severity](open.length)}
          </span>
        ))}
        {passed > 0 && <span className="quiet">{plural(passed, "more", "more")} let pass</span>}
        {pending}
      </p>
      <Jumps findings={blocking} placeOf={placeOf} />
      {others.length > 0 && (
        <details className="est-jumps-more">
          <summary>{blocking.length > 0 ? "The others" : "What they say"}</summary>
          <Jumps findings={others} placeOf={placeOf} />
        </details>
      )}
    </section>
  );
}

/** Ways to where remarks stand. */
export function Jumps({
  findings,
  placeOf,
  onJump,
}: {
  findings: readonly Finding[];
  placeOf: (finding: Finding) => string;
  onJump?: () => void;
}) {
  if (findings.length === 0) return null;
  return (
    <ul className="plain est-jumps">
      {findings.map((finding) => (
        <li key={finding.key}>
          <Shape severity={finding.severity} />
          <span>
            <Button
              kind="text"
              small
              onPress={() => {
                onJump?.();
                // A dialog that closes gives the focus back first.
                setTimeout(() => jumpTo(finding), onJump ? 60 : 0);
              }}
            >
              {placeOf(finding)}
            </Button>{" "}
            <span className="sr">{SEVERITY_WORDS[finding.severity]}: </span>
            {finding.words}
          </span>
        </li>
      ))}
    </ul>
  );
}
