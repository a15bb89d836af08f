import { useParams } from "@tanstack/react-router";

type Param = "jobId" | "revisionId" | "customerId" | "token" | "slug" | "bookId" | "zoneId" | "assemblyId";

/** A part of the address of the screen, such as `useParam("jobId")`. */
export function useParam(name: Param): string {
  const value = (useParams({ strict: false }) as Partial<Record<Param, string>>)[name];
  if (value === undefined) throw new Error(`The address of this screen has no ${name}.`);
  return value;
}
