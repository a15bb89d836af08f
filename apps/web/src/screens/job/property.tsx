import { useMay } from "../../app/session.ts";
import { Button } from "../../ui/button.tsx";
import { Dialog } from "../../ui/dialog.tsx";
import { Section } from "../../ui/section.tsx";
import { whoMay } from "../../ui/who-may.ts";
import { PropertyFacts } from "../customer/property-facts.tsx";
import { PropertyForm } from "../customer/property-form.tsx";
import { type Asking, useJob } from "./asking.ts";

/** Where the work is and how to get at it. */
export function PropertyPart() {
  const { job, ask } = useJob();
  const may = useMay();
  return (
    <Section
      id="property"
      title="Property"
      acts={
        may("customers.edit") ? (
          <Button small onPress={() => ask("edit_property")}>
            Correct
          </Button>
        ) : (
          <small className="quiet">Corrected by {whoMay("customers.edit")}</small>
        )
      }
    >
      <PropertyFacts property={job.property} />
    </Section>
  );
}

export function PropertyDialog({ job, onClose }: Asking) {
  return (
    <Dialog title={`Correct ${job.property.street}`} open onClose={onClose}>
      <PropertyForm property={job.property} onDone={onClose} cancel={onClose} />
    </Dialog>
  );
}
