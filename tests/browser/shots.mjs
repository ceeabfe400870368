// Pictures of every page, or of those named: `node shots.mjs today add`.
import { mkdirSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { PAGES, SCHEMES, known, launch, serve, visit } from './house.mjs';

const folder = fileURLToPath(new URL('shots/', import.meta.url));
const wanted = process.argv.slice(2);
const unknown = wanted.filter((name) => !PAGES.some(([page]) => page === name));
if (unknown.length > 0) {
  console.error(`no page is called ${unknown.join(', ')}; there are ${PAGES.map(([p]) => p).join(', ')}`);
  process.exit(2);
}

mkdirSync(folder, { recursive: true });
const on = { server: await serve() };
try {
  await known(on);
  on.browser = await launch();
  for (const [name, path] of PAGES) {
    if (wanted.length > 0 && !wanted.includes(name)) continue;
    for (const width of [360, 1280]) {
      for (const colorScheme of SCHEMES) {
        const file = `${folder}${name}-${width}-${colorScheme}.png`;
        const options = { viewport: { width, height: width === 360 ? 740 : 900 }, colorScheme };
        await visit(on, path, options, (page) => page.screenshot({ path: file, fullPage: true }));
        console.log(file);
      }
    }
  }
} finally {
  await on.browser?.close();
  await on.server.stop();
}
