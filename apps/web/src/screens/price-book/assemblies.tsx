import type { Assembly, PriceBook } from "@ledgerboard/contracts/price-book";
import { ACTIONS, type Action, COMPONENTS, type Component } from "@ledgerboard/contracts/vocabulary";
import { Link } from "@tanstack/react-router";
import { Button, ButtonLink } from "../../ui/button.tsx";
import { Flag } from "../../ui/flag.tsx";
import { money, plural, sentence, words } from "../../ui/format.ts";
import { Section } from "../../ui/section.tsx";
import { Select } from "../../ui/select.tsx";
import { EmptyState } from "../../ui/states.tsx";
import { type Column, Table } from "../../ui/table.tsx";
import { aUnit, matches, unitWord } from "./book.ts";
import { ListTools, useNarrowing } from "./list-tools.tsx";
import { RetireAssembly } from "./retire.tsx";

/** The work the company does at a price, by what it is done to. */
export function Assemblies({ book, editable }: { book: PriceBook; editable: boolean }) {
  const { text, component, action, retired, set, all } = useNarrowing();
  const gone = book.assemblies.filter((one) => one.retired).length;
  const shown = book.assemblies
    .filter((one) => retired || !one.retired)
    .filter((one) => !component || one.component === component)
    .filter((one) => !action || one.action === action)
    .filter((one) =>
      matches(text, one.code, one.description, words(one.component), words(one.action), one.note),
    );
  const groups = COMPONENTS.map((name) => ({
    name,
    rows: shown
      .filter((one) => one.component === name)
      .toSorted((a, b) => ACTIONS.indexOf(a.action) - ACTIONS.indexOf(b.action)),
  })).filter(({ rows }) => rows.length > 0);
  const columns = columnsOf(book, editable);
  const narrowed = text !== "" || component !== "" || action !== "";
  return (
    <Section
      title="Assemblies"
      note="what one unit of work takes: materials, hours, hauling, equipment"
      acts={
        editable && (
          <ButtonLink
            small
            to="/price-book/$bookId/assemblies/$assemblyId"
            params={{ bookId: book.id, assemblyId: "new" }}
          >
            Add an assembly
          </ButtonLink>
        )
      }
    >
      <ListTools gone={gone} shown={plural(shown.length, "assembly", "assemblies")}>
        <Select
          label="Component"
          name="component"
          options={COMPONENTS.filter((one) => book.assemblies.some((a) => a.component === one))}
          empty="all"
          value={component as Component}
          onChange={(next) => set({ component: next })}
        />
        <Select
          label="What is done"
          name="action"
          options={ACTIONS.filter((one) => book.assemblies.some((a) => a.action === one))}
          empty="all"
          value={action as Action}
          onChange={(next) => set({ action: next })}
        />
      </ListTools>
      {groups.map(({ name, rows }) => (
        // Hundreds of assemblies are a long way on a phone: a component is opened when it is wanted or looked for.
        <details key={`${name} ${narrowed}`} className="pb-group" open={narrowed || groups.length === 1}>
          <summary>
            <h3 className="pb-name">{sentence(words(name))}</h3>{" "}
            <span className="quiet">{plural(rows.length, "assembly", "assemblies")}</span>
          </summary>
          <Table caption={sentence(words(name))} columns={columns} rows={rows} rowKey={({ id }) => id} />
        </details>
      ))}
      {groups.length === 0 &&
        (book.assemblies.length === 0 ? (
          <EmptyState title="No assemblies yet">
            An assembly is a piece of work with what one unit of it takes; estimates are priced from them.
          </EmptyState>
        ) : (
          <EmptyState title="No assembly is like that" actions={<Button onPress={all}>Show all</Button>}>
            Try another word, or all components.
          </EmptyState>
        ))}
    </Section>
  );
}

function columnsOf(book: PriceBook, editable: boolean): Column<Assembly>[] {
  const columns: Column<Assembly>[] = [
    {
      title: "Assembly",
      cell: (one) => (
        <span>
          <Link
            to="/price-book/$bookId/assemblies/$assemblyId"
            params={{ bookId: book.id, assemblyId: one.id }}
          >
            {one.description}
          </Link>{" "}
          {one.retired && <Flag>retired</Flag>}
          <small className="quiet block">{one.code}</small>
          {one.note && <small className="quiet block">{one.note}</small>}
        </span>
      ),
    },
    { title: "What is done", cell: ({ action }) => words(action) },
    {
      title: "Takes",
      cell: ({ recipe }) => (
        <span>
          {takes(recipe)}
          {unpriced(recipe, book) && (
            <span className="block">
              <Flag alarm>a material has no price</Flag>
            </span>
          )}
        </span>
      ),
    },
    {
      title: "Unit price",
      num: true,
      cell: ({ unitPrice, unit, recipe }) => (
        <span>
          <b>{money(unitPrice)}</b>
          <small className="quiet block">
            {recipe.labor.some(({ setupHours }) => Number(setupHours) > 0)
              ? `one ${unitWord(unit)} alone, set up for it`
              : aUnit(unit)}
          </small>
        </span>
      ),
    },
  ];
  if (editable)
    columns.push({
      title: "Change it",
      silent: true,
      num: true,
      cell: (one) => (
        <span className="pb-acts no-print">
          <RetireAssembly row={one} />
        </span>
      ),
    });
  return columns;
}

const unpriced = ({ materials }: Assembly["recipe"], book: PriceBook): boolean =>
  materials.some(({ code }) => book.materials.find((one) => one.code === code)?.packs.length === 0);

/** "three materials, two labor rates". */
function takes({ materials, labor }: Assembly["recipe"]): string {
  const parts = [
    materials.length > 0 && plural(materials.length, "material"),
    labor.length > 0 && plural(labor.length, "labor rate"),
  ].filter(Boolean);
  return parts.join(", ") || "nothing yet";
}
