// Everyone can read every page: axe finds nothing and doubts nothing, and a small screen scrolls one way only.
import { after, before, describe, test } from 'node:test';
import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { PAGES, SCHEMES, known, stage, visit } from './house.mjs';
import { ANSWERS, ERRORS } from './states.mjs';

const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

// The house asks for text at 7:1, so the enhanced contrast rule is on as well.
const RULES = { rules: { 'color-contrast-enhanced': { enabled: true } } };

// What axe cannot decide and a person has: rule, elements, why it holds, and the check that keeps it so.
const REVIEWED = [
  {
    rules: ['color-contrast', 'color-contrast-enhanced'],
    matches: '.drum svg text',
    why: 'Labels of the drum stand beside it or in its air, both as plain as the page; axe sees only a picture.',
    async holds(page, target) {
      const ratio = await page.locator(target).evaluate((text) => {
        const light = (colour) => {
          const [r, g, b] = colour.match(/[\d.]+/g).slice(0, 3).map((v) => {
            const c = v / 255;
            return c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4;
          });
          return 0.2126 * r + 0.7152 * g + 0.0722 * b;
        };
        const ground = light(getComputedStyle(document.body).backgroundColor);
        const air = light(getComputedStyle(text.ownerSVGElement.querySelector('.air')).fill);
        const ink = light(getComputedStyle(text).fill);
        const mix = text.ownerSVGElement.querySelector('.mix')?.getBoundingClientRect();
        const box = text.getBoundingClientRect();
        const inside = mix && box.left < mix.right && box.right > mix.left
          && box.top < mix.bottom && box.bottom > mix.top;
        const over = (a, b) => (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05);
        return inside ? 0 : Math.min(over(ink, ground), over(ink, air));
      });
      return ratio >= 7;
    },
  },
  {
    rules: ['color-contrast', 'color-contrast-enhanced'],
    matches: '.course svg text, .dots svg text',
    why: 'Names of dates and sizes stand on the plain ground beside their lines; no dot or stroke lies under them.',
    async holds(page, target) {
      return page.locator(target).evaluate((text) => {
        const box = text.getBoundingClientRect();
        const under = (e) => {
          const b = e.getBoundingClientRect();
          return b.left < box.right - 1 && b.right > box.left + 1 && b.top < box.bottom - 4 && b.bottom > box.top + 4;
        };
        const marks = [...text.ownerSVGElement.querySelectorAll('circle')];
        return getComputedStyle(text).fill === getComputedStyle(document.body).color && !marks.some(under);
      });
    },
  },
];

/** Findings as lines; with the screen as tall as the page, so that the bar at its foot covers no text. */
async function findings(page) {
  const { width } = page.viewportSize();
  const height = await page.evaluate(() => document.documentElement.scrollHeight);
  await page.setViewportSize({ width, height: Math.max(844, height) });
  const result = await page.evaluate((rules) => globalThis.axe.run(document, rules), RULES);
  assert.ok(result.passes.length > 5, `axe checked only ${result.passes.length} rules`);
  const said = (rule, node) =>
    `${rule.id}: ${node.target.join(' ')}: ${node.failureSummary ?? rule.help}`.replaceAll(/\s+/g, ' ');
  const found = result.violations.flatMap((rule) => rule.nodes.map((node) => said(rule, node)));
  const unsure = [];
  for (const rule of result.incomplete) {
    for (const node of rule.nodes) {
      const target = node.target.join(' ');
      let settled = false;
      for (const known of REVIEWED.filter((r) => r.rules.includes(rule.id))) {
        const fits = await page.locator(target).evaluate((e, css) => e.matches(css), known.matches);
        settled ||= fits && await known.holds(page, target);
      }
      if (!settled) unsure.push(said(rule, node));
    }
  }
  return { found, unsure };
}

function reached(on, { name, path, status = 200, says, act }) {
  const arrive = (options, look) => visit(on, path, { status, ...options }, async (page) => {
    await act?.(page);
    if (says) assert.ok((await page.getByRole('main').innerText()).includes(says), `says “${says}”`);
    await look(page);
  });
  test(`${name}: axe finds nothing at any width, in light and dark, on paper`, async () => {
    await arrive({}, async (page) => {
      await page.evaluate(axe);
      const all = [];
      for (const media of ['screen', 'print']) {
        for (const width of media === 'screen' ? [320, 390, 1280] : [720]) {
          for (const colorScheme of SCHEMES) {
            await page.emulateMedia({ media, colorScheme });
            await page.setViewportSize({ width, height: 844 });
            const { found, unsure } = await findings(page);
            const at = `${media} ${width} px ${colorScheme}`;
            all.push(...found.map((line) => `${at}: ${line}`), ...unsure.map((line) => `${at}: not reviewed: ${line}`));
          }
        }
      }
      assert.deepEqual(all, []);
    });
  });
  test(`${name} at 320 px does not scroll sideways`, async () => {
    await arrive({ viewport: { width: 320, height: 640 } }, async (page) => {
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

const pages = PAGES.map(([name, path]) => ({ name, path }));

describe('a household with two months of entries', () => {
  const on = stage(before, after, 'demo', known);
  for (const state of [...pages, ...ANSWERS, ...ERRORS]) reached(on, state);
});

describe('an empty household', () => {
  const on = stage(before, after, 'serve');
  for (const state of pages) reached(on, { ...state, name: `${state.name}, empty` });
  reached(on, { name: 'an answer with no chamber', path: '/add/answer?entry=full+caddy', says: 'name a chamber first' });
});
