// A page is light and asks nobody else: at most 4 requests and 35 kB, all from this program.
import { after, before, test } from 'node:test';
import assert from 'node:assert/strict';
import { PAGES, known, stage } from './house.mjs';

const on = stage(before, after, 'demo', known);
const MOST_REQUESTS = 4;
const MOST_BYTES = 35_000;

for (const [name, path] of PAGES) {
  test(`${name} is light and asks nobody else`, async (t) => {
    const context = await on.browser.newContext();
    try {
      const page = await context.newPage();
      const wire = await context.newCDPSession(page);
      const asked = [];
      const wrong = [];
      let bytes = 0;
      await wire.send('Network.enable');
      wire.on('Network.requestWillBeSent', ({ request }) => {
        if (!request.url.startsWith('data:')) asked.push(request.url);
      });
      wire.on('Network.responseReceived', ({ response }) => {
        if (response.status >= 400) wrong.push(`${response.url} answered ${response.status}`);
      });
      wire.on('Network.loadingFinished', ({ encodedDataLength }) => {
        bytes += encodedDataLength;
      });
      wire.on('Network.loadingFailed', ({ errorText }) => wrong.push(errorText));
      page.on('console', (said) => {
        if (['error', 'warning'].includes(said.type())) wrong.push(said.text());
      });
      page.on('pageerror', (error) => wrong.push(String(error)));
      await page.goto(on.server.url + path, { waitUntil: 'networkidle' });

      t.diagnostic(`${asked.length} requests, ${bytes} bytes`);
      assert.deepEqual(wrong, []);
      const elsewhere = asked.filter((url) => new URL(url).origin !== on.server.url);
      assert.deepEqual(elsewhere, [], 'every request stays on this machine');
      assert.ok(asked.length >= 1 && asked.length <= MOST_REQUESTS, asked.join('\n'));
      assert.ok(bytes > 0 && bytes <= MOST_BYTES, `${bytes} bytes; at most ${MOST_BYTES}`);
    } finally {
      await context.close();
    }
  });
}
