import { Page } from "../ui/page.tsx";

export default function Screen() {
  return <Page title="Job" />;
}
