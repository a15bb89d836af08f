/** What a search finds, as a LIKE pattern: the words anywhere in lower-case text, taken as they stand. */
export const containing = (search: string): string => `%${search.toLowerCase().replace(/[\\%_]/g, "\\$&")}%`;
