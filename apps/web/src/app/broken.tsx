import { Link, useRouter } from "@tanstack/react-router";
import type { ReactNode } from "react";
import { ApiProblem, errorWords, NoConnection } from "../api/problem.ts";
import { Button, ButtonLink } from "../ui/button.tsx";
import { Page } from "../ui/page.tsx";

/** Around what stands outside the signed-in frame. */
const Alone = ({ children }: { children: ReactNode }) => (
  <main className="alone">
    <Link to="/" className="wordmark">
      Ledgerboard
    </Link>
    {children}
  </main>
);

export function NoSuchScreen() {
  return (
    <Alone>
      <Page title="Nothing here" heading="There is nothing at this address">
        <p>The link may be old, or a letter of it got lost.</p>
        <Link to="/">To the waiting list</Link>
      </Page>
    </Alone>
  );
}

/** The frame itself failed, before any screen. */
export const BrokenFrame = (props: { error: unknown; reset: () => void }) => (
  <Alone>
    <BrokenScreen {...props} />
  </Alone>
);

/** Shown in place of a screen that failed: the rest of the page stays in use. */
export function BrokenScreen({ error, reset }: { error: unknown; reset: () => void }) {
  const router = useRouter();
  const known = error instanceof ApiProblem || error instanceof NoConnection;
  return (
    <Page title="This could not be shown">
      <div role="alert">
        <p>
          {known
            ? errorWords(error)
            : "Something went wrong in this page. It may have been renewed since it was opened: load it again."}
        </p>
      </div>
      <div className="row">
        <Button
          kind="main"
          onPress={() => {
            if (!known) return location.reload();
            reset();
            void router.invalidate();
          }}
        >
          {known ? "Try again" : "Load it again"}
        </Button>
        <ButtonLink to="/">To the waiting list</ButtonLink>
      </div>
    </Page>
  );
}
