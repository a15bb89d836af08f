/**
 * Runs a script of this folder: `node scripts/run.mjs start`. Plain JavaScript, because a Node.js that is too old
 * for the scripts cannot read TypeScript, and has to say so.
 */
const [name, ...rest] = process.argv.slice(2);
if (Number(process.versions.node.split(".")[0]) < 24) {
  process.stderr.write(
    `Ledgerboard needs Node.js 24 or newer; this is ${process.version}. Run "npm ci" and then use npm, as in ` +
      '"npm start": it brings its own Node.js.\n',
  );
  process.exit(1);
}
const { [name]: main } = await import(new URL(`${name}.ts`, import.meta.url).href);
try {
  process.exitCode = await main(rest);
} catch (error) {
  process.stderr.write(`\n${process.env.LOG_LEVEL === "debug" ? error.stack : error.message}\n`);
  process.exit(1);
}
