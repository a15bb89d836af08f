import { createLink } from "@tanstack/react-router";
import type { AnchorHTMLAttributes, ReactNode, Ref } from "react";
import { Button as AriaButton, type ButtonProps } from "react-aria-components/Button";

interface Looks {
  /** `main` for the one act a screen is for, `text` for small acts beside text. */
  kind?: "main" | "text" | undefined;
  /** For acts that take something away. */
  alarm?: boolean | undefined;
  small?: boolean | undefined;
}

const looks = ({ kind, alarm, small }: Looks) =>
  ["button", kind, alarm && "alarm", small && "small"].filter(Boolean).join(" ");

export interface Props extends Looks, Omit<ButtonProps, "className" | "style" | "isPending" | "children"> {
  /** The act is under way: stays focusable, does nothing. */
  busy?: boolean | undefined;
  children: ReactNode;
}

export function Button({ kind, alarm, small, busy = false, ...rest }: Props) {
  return <AriaButton {...rest} isPending={busy} className={looks({ kind, alarm, small })} />;
}

interface LinkProps extends Looks, AnchorHTMLAttributes<HTMLAnchorElement> {
  ref?: Ref<HTMLAnchorElement>;
}

/** A link that goes somewhere and looks like a button: `<ButtonLink to="/new" kind="main">`. */
export const ButtonLink = createLink(({ kind, alarm, small, ...rest }: LinkProps) => (
  <a {...rest} className={looks({ kind, alarm, small })} />
));
