import type { ReactNode } from "react";
import { Dialog as AriaDialog } from "react-aria-components/Dialog";
import { Heading } from "react-aria-components/Heading";
import { Modal, ModalOverlay } from "react-aria-components/Modal";

export interface DialogProps {
  title: string;
  open: boolean;
  onClose: () => void;
  wide?: boolean;
  /** Asks before something is lost: announced at once, not closed by a click beside it. */
  urgent?: boolean;
  children: ReactNode;
}

/** A question in front of the screen: takes the focus and gives it back; Escape closes it. */
export function Dialog({ title, open, onClose, wide, urgent, children }: DialogProps) {
  return (
    <ModalOverlay
      className="veil"
      isOpen={open}
      isDismissable={!urgent}
      onOpenChange={(now) => {
        if (!now) onClose();
      }}
    >
      <Modal className={wide ? "dialog-box wide" : "dialog-box"}>
        <AriaDialog className="dialog" role={urgent ? "alertdialog" : "dialog"}>
          <Heading slot="title" level={2}>
            {title}
          </Heading>
          {children}
        </AriaDialog>
      </Modal>
    </ModalOverlay>
  );
}
