import "./layout.css";
import { useQuery } from "@tanstack/react-query";
import { Link, Outlet, useLocation, useNavigate, useRouter } from "@tanstack/react-router";
import { useEffect } from "react";
import { RouterProvider as AriaRouter } from "react-aria-components";
import { useAct } from "../api/act.ts";
import { api } from "../api/generated/endpoints.ts";
import { follow, useIsCutOff } from "../api/live.ts";
import { isProblem } from "../api/problem.ts";
import { q } from "../api/queries.ts";
import { words } from "../ui/format.ts";
import { Menu } from "../ui/menu.tsx";
import { Loading } from "../ui/states.tsx";
import { leaveToSignIn } from "./leave.ts";
import { COMPANY_NAV, NAV } from "./nav.ts";
import { useMay, useSession } from "./session.ts";
import { THEMES, type Theme, useTheme } from "./theme.ts";

/** Frame of everything behind the sign-in: the ledger along the top, and what hangs from it. */
export function Layout() {
  const { data, error } = useQuery(q.session());
  const navigate = useNavigate();
  const router = useRouter();
  const ended = isProblem(error, "not-signed-in");
  const here = useLocation({ select: (location) => location.href });
  // biome-ignore lint/correctness/useExhaustiveDependencies: leaves once, from where it was when the session ended
  useEffect(() => {
    if (ended) void leaveToSignIn(router, here);
  }, [ended]);
  useEffect(follow, []);
  if (!data || ended) return <Loading />;
  return (
    <AriaRouter
      navigate={(to) => void navigate({ to })}
      useHref={(to) => router.buildLocation({ to: to as "/" }).href}
    >
      <a className="skip" href="#main">
        To the content
      </a>
      <TopBar />
      <main id="main" tabIndex={-1}>
        <Outlet />
      </main>
    </AriaRouter>
  );
}

function TopBar() {
  const { company } = useSession();
  const may = useMay();
  const path = useLocation({ select: (location) => location.pathname });
  const entries = COMPANY_NAV.filter((entry) => may(entry.needs));
  const inCompany = entries.some((entry) => path.startsWith(entry.to));
  return (
    <header className="top no-print">
      <div className="top-row">
        <Link to="/" className="wordmark">
          Ledgerboard
        </Link>
        <nav className="ways" aria-label="Screens">
          {NAV.filter((entry) => may(entry.needs)).map((entry) => (
            <Link
              key={entry.to}
              to={entry.to}
              className="way"
              activeOptions={{ exact: entry.to === "/", includeSearch: false }}
              {...(entry.to === "/" && path.startsWith("/jobs") && { "data-near": true })}
            >
              {entry.label}
            </Link>
          ))}
          {entries.length > 0 && (
            <Menu
              label="Company"
              className={inCompany ? "way here" : "way"}
              trigger={
                <>
                  Company <Down />
                </>
              }
              entries={entries.map((entry) => ({ id: entry.to, label: entry.label, href: entry.to }))}
            />
          )}
        </nav>
        <Offline />
        <span className="company-name quiet">{company.name}</span>
        <Me />
      </div>
      <div className="ledger" aria-hidden="true" />
    </header>
  );
}

const Down = () => (
  <svg className="down" viewBox="0 0 10 6" aria-hidden="true">
    <path d="M1 1l4 4 4-4" />
  </svg>
);

/** Says quietly that changes by others do not arrive just now. */
function Offline() {
  const cutOff = useIsCutOff();
  return (
    <span role="status" className="cut-off">
      {cutOff && <span title="Changes by others do not arrive; what you see may be old.">offline</span>}
    </span>
  );
}

const THEME_WORDS: Record<Theme, string> = { system: "as the system", light: "light", dark: "dark" };

function Me() {
  const { member, company } = useSession();
  const router = useRouter();
  const [theme, setTheme] = useTheme();
  const signOut = useAct(api.signOut);
  const leave = async () => {
    await signOut.send({}).catch(() => {});
    await leaveToSignIn(router);
  };
  return (
    <Menu
      label="You"
      className="way me"
      trigger={
        <>
          <span className="sr">Signed in: </span>
          {member.name.split(" ")[0]} <Down />
        </>
      }
      note={
        <>
          {member.name}, {member.roles.map(words).join(", ")}
          <br />
          {company.name}
        </>
      }
      entries={[
        ...THEMES.map((one) => ({
          id: one,
          label: `Colors: ${THEME_WORDS[one]}${one === theme ? " (now)" : ""}`,
          onAction: () => setTheme(one),
        })),
        { id: "out", label: "Sign out", onAction: () => void leave() },
      ]}
    />
  );
}
