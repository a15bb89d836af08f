import type { ReactNode } from "react";
import { useSearchText } from "../../app/search.ts";
import { Checkbox } from "../../ui/choices.tsx";
import { plural } from "../../ui/format.ts";
import { TextField } from "../../ui/text-field.tsx";

/** How a list of the book is narrowed down; kept in the address. */
export function useNarrowing() {
  const [search, setSearch] = useSearchText();
  return {
    text: search.search ?? "",
    component: search.component ?? "",
    action: search.action ?? "",
    retired: search.retired === "yes",
    set: setSearch,
    all: () => setSearch({ search: undefined, component: undefined, action: undefined }),
  };
}

/** Search, whatever else narrows the list, and whether retired ones are shown. */
export function ListTools({ gone, shown, children }: { gone: number; shown: string; children?: ReactNode }) {
  const { text, retired, set } = useNarrowing();
  return (
    <search className="pb-filter no-print">
      <TextField
        label="Search"
        type="search"
        name="search"
        placeholder="code, words"
        autoComplete="off"
        maxLength={80}
        value={text}
        onChange={(next) => set({ search: next })}
      />
      {children}
      {gone > 0 && (
        <Checkbox
          label={`Show ${plural(gone, "retired one", "retired ones")}`}
          name="retired"
          value={retired}
          onChange={(now) => set({ retired: now ? "yes" : undefined })}
        />
      )}
      <p className="sr" role="status">
        {shown} shown
      </p>
    </search>
  );
}
