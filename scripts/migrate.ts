/** `npm run migrate`: brings the database up to date without starting anything else. */
import { openLocalDatabase } from "./local-database.ts";
import { generatePrismaClient } from "./prisma-generate.ts";

/** Works on the database of DATABASE_URL (its owner's URL), or else on the one in .data/. */
export async function migrate(): Promise<void> {
  const print = (line: string): void => void process.stdout.write(`${line}\n`);
  const database = await openLocalDatabase(print, generatePrismaClient());
  await database.stop();
  process.stdout.write("The database is up to date.\n");
}
