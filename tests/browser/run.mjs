// Runs the browser tests with node's own runner, one file after another: each
// file starts a server of its own, and the machine has few cores.
import { run } from 'node:test';
import { spec } from 'node:test/reporters';
import { readdirSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

const here = fileURLToPath(new URL('.', import.meta.url));
const wanted = process.argv.slice(2);
const files = readdirSync(here)
  .filter((name) => name.endsWith('.test.mjs'))
  .filter((name) => wanted.length === 0 || wanted.includes(name.replace('.test.mjs', '')))
  .sort()
  .map((name) => here + name);
if (files.length === 0) {
  console.error(`no test file is called ${wanted.join(', ')}`);
  process.exit(2);
}

let failed = false;
run({ files, concurrency: 1, timeout: 1_500_000 })
  .on('test:fail', () => {
    failed = true;
  })
  .compose(new spec())
  .on('end', () => {
    process.exitCode = failed ? 1 : 0;
  })
  .pipe(process.stdout);
