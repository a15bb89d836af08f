import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { startDatabase } from "@ledgerboard/database/embedded-server";
import { migrate } from "@ledgerboard/database/migrate";
import { prepareQueue } from "@ledgerboard/database/queue";
import { createDatabase, ensureAppRole } from "@ledgerboard/database/roles";
import type { TestProject } from "vitest/node";

declare module "vitest" {
  interface ProvidedContext {
    adminUrl: string;
    templateName: string;
    appPassword: string;
  }
}

const TEMPLATE = "ledgerboard_template";
const PASSWORD = "only-for-tests";

/** One real PostgreSQL server a run; test files clone their database from a migrated template. */
export default async function setup(project: TestProject): Promise<() => Promise<void>> {
  const dataDir = await mkdtemp(join(tmpdir(), "ledgerboard-test-"));
  const server = await startDatabase({ dataDir, fast: true });
  try {
    const url = await createDatabase(server.adminUrl, TEMPLATE);
    await ensureAppRole(server.adminUrl, { role: "ledgerboard_app", password: PASSWORD });
    await migrate(url);
    await prepareQueue(url);
  } catch (error) {
    await server.stop();
    throw error;
  }
  project.provide("adminUrl", server.adminUrl);
  project.provide("templateName", TEMPLATE);
  project.provide("appPassword", PASSWORD);
  return async () => {
    await server.stop();
    await rm(dataDir, { recursive: true, force: true });
    if (server.dataDir !== dataDir) await rm(server.dataDir, { recursive: true, force: true });
  };
}
