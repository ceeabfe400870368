// Everyone can read every page: axe finds nothing, and a small screen scrolls one way only.
import { after, before, test } from 'node:test';
import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { PAGES, SCHEMES, stage, visit } from './house.mjs';

const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
const on = stage(before, after);

// The house asks for text at 7:1, so the enhanced contrast rule is on as well.
const RULES = { rules: { 'color-contrast-enhanced': { enabled: true } } };

async function violations(page) {
  await page.evaluate(axe);
  const result = await page.evaluate((rules) => globalThis.axe.run(document, rules), RULES);
  assert.ok(result.passes.length > 5, `axe checked only ${result.passes.length} rules`);
  const tell = (rule) => rule.nodes.map((node) =>
    `${rule.id}: ${node.target.join(' ')}: ${node.failureSummary ?? rule.help}`.replaceAll(/\s+/g, ' '));
  return { found: result.violations.flatMap(tell), unsure: result.incomplete.flatMap(tell) };
}

const CASES = [...PAGES, ['a verdict', '/look?q=eggshell'], ['nothing found', '/look?q=zzqxv']];
for (const [name, path] of CASES) {
  for (const width of [320, 390, 1280]) {
    for (const colorScheme of SCHEMES) {
      test(`${name} at ${width} px, ${colorScheme}: axe finds nothing`, async (t) => {
        const options = { viewport: { width, height: 844 }, colorScheme };
        await visit(on, path, options, async (page) => {
          const { found, unsure } = await violations(page);
          for (const line of unsure) t.diagnostic(`to review by eye: ${line}`);
          assert.deepEqual(found, []);
        });
      });
    }
  }

  test(`${name} at 320 px does not scroll sideways`, async () => {
    await visit(on, path, { viewport: { width: 320, height: 640 } }, async (page) => {
      const seen = await page.evaluate(() => {
        const root = document.documentElement;
        const wide = [...document.querySelectorAll('body *')]
          .filter((e) => e.getBoundingClientRect().right > root.clientWidth + 0.5)
          .map((e) => `${e.tagName.toLowerCase()}.${e.className}`)
          .slice(0, 5);
        const cut = [root, document.body]
          .filter((e) => ['hidden', 'clip'].includes(getComputedStyle(e).overflowX))
          .map((e) => e.tagName);
        return { content: root.scrollWidth, screen: root.clientWidth, wide, cut };
      });
      assert.deepEqual(seen.cut, [], 'overflow is hidden, not avoided');
      assert.ok(seen.content <= seen.screen,
        `${seen.content} px of content on ${seen.screen} px: ${seen.wide.join(', ')}`);
    });
  });
}
