import type { UseQueryResult } from "@tanstack/react-query";
import type { ReactNode } from "react";
import { ApiProblem, errorWords } from "../api/problem.ts";
import { Button } from "./button.tsx";

/** Nothing here yet: says so and offers what to do about it. */
export function EmptyState({
  title,
  children,
  actions,
}: {
  title: string;
  children?: ReactNode;
  actions?: ReactNode;
}) {
  return (
    <div className="void">
      <h2>{title}</h2>
      {children && <p className="quiet">{children}</p>}
      {actions && <div className="row">{actions}</div>}
    </div>
  );
}

/** It did not come: says why and what to do. */
export function ErrorState({ error, onRetry }: { error: unknown; onRetry?: (() => void) | undefined }) {
  const lasting = error instanceof ApiProblem && [403, 404, 410].includes(error.status);
  return (
    <div className="void" role="alert">
      <h2>This could not be shown</h2>
      <p>{errorWords(error)}</p>
      {error instanceof ApiProblem && error.document.requestId && error.status >= 500 && (
        <p className="quiet">
          <small>If it stays, pass on this number: {error.document.requestId}</small>
        </p>
      )}
      {onRetry && !lasting && (
        <div className="row">
          <Button onPress={onRetry}>Try again</Button>
        </div>
      )}
    </div>
  );
}

/** On its way. */
export function Loading({ rows = 6, label = "Loading" }: { rows?: number; label?: string }) {
  return (
    <div className="skeleton" aria-busy="true" role="status">
      <span className="sr">{label}</span>
      {Array.from({ length: rows }, (_, row) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: rows without any content or state
        <i key={row} />
      ))}
    </div>
  );
}

/** The one way a screen waits for what it shows: loading, then the error with a way on, then the thing. */
export function Loaded<T>({
  query,
  children,
  rows,
}: {
  query: UseQueryResult<T>;
  children: (data: T) => ReactNode;
  rows?: number;
}) {
  if (query.data !== undefined) return children(query.data);
  if (query.error) return <ErrorState error={query.error} onRetry={() => void query.refetch()} />;
  return <Loading rows={rows ?? 6} />;
}
