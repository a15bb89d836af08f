import { useRef, useState } from "react";

interface Row {
  key: string;
}

/** Adding, changing and taking out rows of a list in a form; a row that was just added wants the focus. */
export function useRows<R extends Row>(rows: R[], onChange: (rows: R[]) => void, blank: Omit<R, "key">) {
  const made = useRef(0);
  const [fresh, setFresh] = useState<string | null>(null);
  return {
    add: () => {
      made.current += 1;
      const key = `new${made.current}-${rows.length}`;
      setFresh(key);
      onChange([...rows, { ...blank, key } as R]);
    },
    change: (key: string, next: Partial<R>) =>
      onChange(rows.map((row) => (row.key === key ? { ...row, ...next } : row))),
    remove: (key: string) => onChange(rows.filter((row) => row.key !== key)),
    isFresh: (key: string) => fresh === key,
  };
}
