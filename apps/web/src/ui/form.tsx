import { type FormEvent, type ReactNode, useEffect, useRef, useState } from "react";
import { ApiProblem, errorWords, isProblem } from "../api/problem.ts";
import { Button } from "./button.tsx";
import type { FieldProps } from "./field.tsx";

/** Keys are the paths of the request body: `{ title: "", "customer.name": "" }`. */
type Values = Record<string, unknown>;
type Name<V> = keyof V & string;

export interface FormOptions<V extends Values> {
  /** What the fields show at first; when it changes under an untouched form, the form follows. */
  initial: V;
  /** Version of the record `initial` was read from. */
  version?: number | undefined;
  /** Sends the values; throws what the service refuses. `version` is the one the person has been shown. */
  submit: (values: V, version: number | undefined) => Promise<unknown>;
  /** Checks that need no service. Return words for the fields at fault. */
  check?: (values: V) => { [K in Name<V>]?: string | undefined };
}

export interface FormState<V extends Values> {
  values: V;
  field: <K extends Name<V>>(name: K) => FieldProps<V[K]>;
  set: <K extends Name<V>>(name: K, value: V[K]) => void;
  dirty: boolean;
  busy: boolean;
  /** What the last submit failed with. */
  error: unknown;
  /** Faults that belong to no field of this form. */
  loose: string[];
  /** Somebody else saved while this form was being filled in. */
  overtaken: boolean;
  submit: () => void;
  /** Back to what is saved (or to `values`). */
  reset: (values?: V) => void;
}

/** The field a fault belongs to: "body.lines.0.quantity" belongs to "lines" when there is no closer one. */
export function fieldOf(path: string, names: readonly string[]): string | undefined {
  let at = path.replace(/^(body|query|params)\./, "");
  for (;;) {
    if (names.includes(at)) return at;
    const dot = at.lastIndexOf(".");
    if (dot < 0) return undefined;
    at = at.slice(0, dot);
  }
}

/** The one way a form is done: values, what changed, sending, and faults at their fields. */
export function useForm<V extends Values>({ initial, version, submit, check }: FormOptions<V>): FormState<V> {
  const given = JSON.stringify(initial);
  const [values, setValues] = useState(initial);
  const [saved, setSaved] = useState(given);
  const [last, setLast] = useState({ given, version });
  const [theirs, setTheirs] = useState<Partial<V>>({});
  const [errors, setErrors] = useState<Record<string, string>>({});
  const [loose, setLoose] = useState<string[]>([]);
  const [error, setError] = useState<unknown>(null);
  const [busy, setBusy] = useState(false);
  const resets = useRef(0);
  const dirty = JSON.stringify(values) !== saved;

  if (last.given !== given || last.version !== version) {
    // The record changed while the form was open. Untouched, the form shows the new one; otherwise it keeps
    // what was typed and shows theirs beside it, so that the next save is made knowingly.
    const before = JSON.parse(last.given) as V;
    setLast({ given, version });
    if (!dirty) {
      setValues(initial);
      setSaved(given);
    } else {
      const changed = Object.keys(initial).filter(
        (key) =>
          JSON.stringify(initial[key]) !== JSON.stringify(before[key]) &&
          JSON.stringify(initial[key]) !== JSON.stringify(values[key]),
      );
      setTheirs(Object.fromEntries(changed.map((key) => [key, initial[key]])) as Partial<V>);
    }
  }

  const set = <K extends Name<V>>(name: K, value: V[K]) => {
    setValues((now) => ({ ...now, [name]: value }));
    setErrors(({ [name]: _, ...rest }) => rest);
  };
  const fail = (thrown: unknown) => {
    const byField: Record<string, string> = {};
    const others: string[] = [];
    for (const fault of thrown instanceof ApiProblem ? thrown.errors : []) {
      const name = fieldOf(fault.path, Object.keys(values));
      if (name) byField[name] ??= fault.message;
      else others.push(fault.message);
    }
    setErrors(byField);
    setLoose(others);
    setError(thrown);
  };
  const run = async () => {
    if (busy) return;
    const faults = Object.entries(check?.(values) ?? {}).filter(([, text]) => text) as [string, string][];
    if (faults.length > 0) {
      setErrors(Object.fromEntries(faults));
      setLoose([]);
      setError(
        new ApiProblem({
          type: "/problems/invalid-input",
          title: "Some fields need another look.",
          status: 422,
        }),
      );
      return;
    }
    setBusy(true);
    const before = resets.current;
    try {
      await submit(values, last.version);
      // A form that was reset on sending has begun anew: what was sent is not what it shows.
      if (resets.current === before) setSaved(JSON.stringify(values));
      setTheirs({});
      setErrors({});
      setLoose([]);
      setError(null);
    } catch (thrown) {
      fail(thrown);
    } finally {
      setBusy(false);
    }
  };
  return {
    values,
    set,
    dirty,
    busy,
    error,
    loose,
    overtaken: Object.keys(theirs).length > 0,
    field: (name) => ({
      name,
      value: values[name],
      onChange: (value) => set(name, value),
      error: errors[name],
      theirs: theirs[name],
    }),
    submit: () => void run(),
    reset: (next) => {
      resets.current += 1;
      setValues(next ?? initial);
      setSaved(JSON.stringify(next ?? initial));
      setTheirs({});
      setErrors({});
      setLoose([]);
      setError(null);
    },
  };
}

/** Frame of a form: shows the fault above the fields and puts the focus where it has to be mended. */
export function Form<V extends Values>({
  form,
  children,
  label,
}: {
  form: FormState<V>;
  children: ReactNode;
  label?: string;
}) {
  const element = useRef<HTMLFormElement>(null);
  useEffect(() => {
    if (!form.error) return;
    const find = (what: string) => element.current?.querySelector<HTMLElement>(what);
    const fault = find("[aria-invalid=true]") ?? find("[data-fault]");
    fault?.focus();
  }, [form.error]);
  return (
    <form
      ref={element}
      className="form"
      noValidate
      aria-label={label}
      onSubmit={(event: FormEvent) => {
        event.preventDefault();
        event.stopPropagation();
        form.submit();
      }}
    >
      <FormProblem form={form} />
      {children}
    </form>
  );
}

function FormProblem<V extends Values>({ form }: { form: FormState<V> }) {
  if (form.overtaken && (!form.error || isProblem(form.error, "version-stale")))
    return (
      <div className="notice" role="alert" data-fault tabIndex={-1}>
        <p>Somebody changed this meanwhile: look at theirs, then save again.</p>
        <p>What they saved stands below each field; what you typed is kept.</p>
      </div>
    );
  if (!form.error) return null;
  return (
    <div className="notice alarm" role="alert" data-fault tabIndex={-1}>
      <p>{errorWords(form.error)}</p>
      {form.loose.length > 0 && (
        <ul>
          {form.loose.map((text) => (
            <li key={text}>{text}</li>
          ))}
        </ul>
      )}
    </div>
  );
}

/** The act of a form, with a way out beside it. */
export function FormActions<V extends Values>({
  form,
  submit,
  cancel,
  alarm,
  always = true,
}: {
  form: FormState<V>;
  /** Words of the act: "Save". */
  submit: string;
  cancel?: (() => void) | undefined;
  alarm?: boolean;
  /** False: only once something was changed (for forms that correct a record). */
  always?: boolean;
}) {
  return (
    <div className="row">
      <Button type="submit" kind="main" busy={form.busy} alarm={alarm} isDisabled={!always && !form.dirty}>
        {submit}
      </Button>
      {cancel && (
        <Button onPress={cancel} isDisabled={form.busy}>
          Cancel
        </Button>
      )}
    </div>
  );
}

/** What an empty optional field is called in a request. */
export const orNull = (text: string): string | null => (text.trim() === "" ? null : text.trim());

/** Turns path keys into the nested body they stand for: `{"customer.name": "A"}` -> `{customer: {name: "A"}}`. */
export function nest(values: Values): Record<string, unknown> {
  const body: Record<string, unknown> = {};
  for (const [path, value] of Object.entries(values)) {
    const steps = path.split(".");
    const name = steps.pop() ?? path;
    let at = body;
    for (const step of steps) {
      at[step] ??= {};
      at = at[step] as Record<string, unknown>;
    }
    at[name] = value;
  }
  return body;
}
