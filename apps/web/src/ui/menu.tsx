import type { ReactNode } from "react";
import { Button as AriaButton } from "react-aria-components/Button";
import { Menu as AriaMenu, MenuItem, MenuTrigger } from "react-aria-components/Menu";
import { Popover } from "react-aria-components/Popover";

export interface MenuEntry {
  id: string;
  label: string;
  /** Path of a screen; else `onAction`. */
  href?: string;
  onAction?: () => void;
  alarm?: boolean;
  here?: boolean;
}

/** A button that opens a short list of acts or screens. */
export function Menu({
  label,
  trigger,
  entries,
  className = "button",
  note,
}: {
  /** Name of the menu for those who cannot see it. */
  label: string;
  trigger: ReactNode;
  entries: readonly MenuEntry[];
  className?: string;
  note?: ReactNode;
}) {
  return (
    <MenuTrigger>
      <AriaButton className={className}>{trigger}</AriaButton>
      <Popover offset={6} className="menu-frame">
        {note && <div className="menu-note">{note}</div>}
        <AriaMenu className="menu" aria-label={label}>
          {entries.map((entry) => (
            <MenuItem
              key={entry.id}
              id={entry.id}
              className={entry.alarm ? "menu-item alarm" : "menu-item"}
              {...(entry.href && { href: entry.href })}
              {...(entry.onAction && { onAction: entry.onAction })}
            >
              {entry.label}
            </MenuItem>
          ))}
        </AriaMenu>
      </Popover>
    </MenuTrigger>
  );
}
