// A thumb in a glove hits it: 48 px high, or 24 px for a link within a sentence.
import { after, before, test } from 'node:test';
import assert from 'node:assert/strict';
import { PAGES, known, stage, visit } from './house.mjs';

const on = stage(before, after, 'demo', known);

for (const [name, path] of PAGES) {
  for (const width of [320, 1280]) {
    test(`${name} at ${width} px: every target is large enough`, async () => {
      await visit(on, path, { viewport: { width, height: 844 } }, async (page) => {
        const { count, small } = await page.evaluate(() => {
          const kinds = 'a[href], button, input:not([type=hidden], [type=radio], [type=checkbox]), select, summary';
          const targets = [...document.querySelectorAll('main, nav')]
            .flatMap((part) => [...part.querySelectorAll(kinds)])
            .filter((e, i, all) => all.indexOf(e) === i && e.checkVisibility());
          const small = [];
          for (const e of targets) {
            // In a sentence: set inline, with words of the sentence beside it.
            const beside = e.parentElement.innerText.replace(e.innerText, '').trim();
            const inline = getComputedStyle(e).display === 'inline' && beside !== '';
            const least = inline ? 24 : 48;
            const heights = [...e.getClientRects()].map((r) => r.height);
            const height = Math.min(...heights);
            if (!(height >= least - 0.01)) {
              small.push(`${height.toFixed(1)} of ${least} px: ${e.outerHTML.slice(0, 90)}`);
            }
          }
          return { count: targets.length, small };
        });
        assert.ok(count >= 5, `only ${count} targets found: the bottom bar alone has five`);
        assert.deepEqual(small, []);
      });
    });
  }
}
