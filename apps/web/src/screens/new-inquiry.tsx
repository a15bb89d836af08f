import "./new-inquiry.css";
import { useState } from "react";
import { useMay } from "../app/session.ts";
import { Page } from "../ui/page.tsx";
import { EmptyState } from "../ui/states.tsx";
import { whoMay } from "../ui/who-may.ts";
import { InquiryForm } from "./new-inquiry/inquiry-form.tsx";
import { type Opened, Taken } from "./new-inquiry/taken.tsx";

export default function NewInquiry() {
  const may = useMay();
  const [opened, setOpened] = useState<Opened | null>(null);
  if (!may("leads.create"))
    return (
      <Page title="New inquiry">
        <EmptyState title="Inquiries are taken by others">
          {whoMay("leads.create")} may enter one. Tell one of them who called.
        </EmptyState>
      </Page>
    );
  if (opened) return <Taken opened={opened} onAnother={() => setOpened(null)} />;
  return (
    <Page
      title="New inquiry"
      lead="Type while they talk; only the name, a way to answer, the place and the trouble are needed."
    >
      <InquiryForm onOpened={setOpened} />
    </Page>
  );
}
