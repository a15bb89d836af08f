import { useMutation } from "@tanstack/react-query";
import { useCallback, useRef } from "react";
import { toast } from "../ui/toast.tsx";
import { call } from "./client.ts";
import { errorWords, isPassing, isProblem } from "./problem.ts";
import { invalidate, RESOURCES, TOUCHES } from "./queries.ts";
import type { Args, Output, Wire } from "./wire.ts";

export type ActArgs<E> = Args<E> & { version?: number | undefined };

export interface ActOptions<E> {
  /** Said quietly when it is done: "Pinned." */
  done?: string | ((output: Output<E>) => string);
  /** After what is on screen has been marked stale. */
  onDone?: (output: Output<E>, args: ActArgs<E>) => void;
}

/**
 * One act of a person on the service. `act` shows a refusal as a toast; `send` throws it, for forms, which
 * show it at their fields. An identical second try after a failure carries the same Idempotency-Key, so it
 * cannot happen twice.
 */
export function useAct<E>(endpoint: Wire<E>, { done, onDone }: ActOptions<E> = {}) {
  const intent = useRef<{ args: string; key: string } | null>(null);
  const mutation = useMutation({
    mutationFn: (args: ActArgs<E>) => {
      const text = JSON.stringify(args);
      if (intent.current?.args !== text) intent.current = { args: text, key: crypto.randomUUID() };
      return call(endpoint, { ...args, key: intent.current.key });
    },
    retry: (tries, error) => endpoint.key && tries < 2 && isPassing(error),
    retryDelay: (tries) => 600 * 2 ** tries,
    onSuccess: (output, args) => {
      intent.current = null;
      void invalidate(TOUCHES[endpoint.tag] ?? RESOURCES);
      if (done) toast(typeof done === "string" ? done : done(output));
      onDone?.(output, args);
    },
    onError: (error) => {
      if (!isPassing(error)) intent.current = null;
      // Fetch theirs, so that it is there to look at.
      if (
        isProblem(error, "version-stale") ||
        isProblem(error, "illegal-move") ||
        isProblem(error, "conflict")
      )
        void invalidate(TOUCHES[endpoint.tag] ?? RESOURCES);
    },
  });
  const { mutate, mutateAsync } = mutation;
  const act = useCallback(
    (args: ActArgs<E>) => mutate(args, { onError: (error) => toast(errorWords(error), { alarm: true }) }),
    [mutate],
  );
  const send = useCallback((args: ActArgs<E>): Promise<Output<E>> => mutateAsync(args), [mutateAsync]);
  return { act, send, busy: mutation.isPending, error: mutation.error };
}
