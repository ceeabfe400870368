// A sheet for the shed wall: black on white from any screen, nothing to tap, and one page where it is a sheet.
import { after, before, test } from 'node:test';
import assert from 'node:assert/strict';
import { PAGES, SCHEMES, known, stage, visit } from './house.mjs';
import { ANSWERS } from './states.mjs';

const on = stage(before, after, 'demo', known);
const SHEETS = ['heat', 'today', 'a slip', 'stock', 'start', 'more', 'handover', 'a verdict', 'a verdict of never', 'an answer', 'sizes for three'];
const ALL = [...PAGES.map(([name, path]) => ({ name, path })), ...ANSWERS];

for (const { name, path } of ALL) {
  for (const colorScheme of SCHEMES) {
    test(`${name} prints black on white, without bar and buttons, from ${colorScheme}`, async () => {
      await visit(on, path, { viewport: { width: 720, height: 1000 }, colorScheme }, async (page) => {
        const screen = await page.evaluate(() => document.querySelector('nav').checkVisibility());
        assert.ok(screen, 'the bar is there on the screen');
        await page.emulateMedia({ media: 'print', colorScheme });
        const seen = await page.evaluate(() => {
          const shown = (e) => e.checkVisibility() && e.getBoundingClientRect().width > 1;
          const name = (e) => `${e.tagName.toLowerCase()}.${e.getAttribute('class') ?? ''}: ${e.textContent.trim().slice(0, 40)}`;
          const taps = [...document.querySelectorAll('nav, button, input, select, textarea, summary, .go, .skip')]
            .filter(shown).map(name);
          const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
          const grey = [];
          let words = 0;
          while (walk.nextNode()) {
            const e = walk.currentNode.parentElement;
            if (walk.currentNode.data.trim() === '' || !shown(e)) continue;
            words += 1;
            const style = getComputedStyle(e);
            const ink = e.closest('svg') ? style.fill : style.color;
            let ground = 'rgb(255, 255, 255)';
            for (let at = e; at; at = at.parentElement) {
              const own = getComputedStyle(at).backgroundColor;
              if (own !== 'rgba(0, 0, 0, 0)') { ground = own; break; }
            }
            if (ink !== 'rgb(0, 0, 0)' || ground !== 'rgb(255, 255, 255)') grey.push(`${ink} on ${ground}: ${name(e)}`);
          }
          return { taps, grey, words };
        });
        assert.deepEqual(seen.taps, [], 'nothing on paper wants a tap');
        assert.deepEqual(seen.grey, [], 'all words are black on white');
        assert.ok(seen.words >= 2, `${seen.words} pieces of text`);
      });
    });
  }
}

for (const name of SHEETS) {
  for (const format of ['A4', 'Letter']) {
    test(`${name} is one page of ${format}`, async () => {
      const state = ALL.find((s) => s.name === name);
      assert.ok(state, `there is a page called ${name}`);
      await visit(on, state.path, { colorScheme: 'dark' }, async (page) => {
        const pdf = (await page.pdf({ format })).toString('latin1');
        assert.ok(pdf.startsWith('%PDF-'));
        const pages = pdf.match(/\/Type\s*\/Page\b(?!s)/g) ?? [];
        assert.equal(pages.length, 1, `${pages.length} pages of ${format}`);
      });
    });
  }
}
