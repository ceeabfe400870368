// The caddy is added with Tab and Enter only, and it is always plain where one is.
import { after, before, test } from 'node:test';
import assert from 'node:assert/strict';
import { open, stage, visit } from './house.mjs';
import { ENTRY, dosePage, entriesToUndo, entryForm, posting } from './flows.mjs';

const on = stage(before, after);
const MOST_STOPS = 60;

/** Presses Tab until the wanted element has the focus; every stop on the way must show it. */
async function tabTo(page, wanted, name) {
  const target = await wanted.elementHandle();
  assert.ok(target, `${name} is on the page`);
  for (let stop = 1; stop <= MOST_STOPS; stop += 1) {
    await page.keyboard.press('Tab');
    const { there, shown, what } = await page.evaluate((target) => {
      const at = document.activeElement;
      const style = getComputedStyle(at);
      const outlined = style.outlineStyle !== 'none' && parseFloat(style.outlineWidth) >= 2;
      return {
        there: at === target,
        shown: at === document.body || outlined || style.boxShadow !== 'none',
        what: at.outerHTML.slice(0, 80),
      };
    }, target);
    assert.ok(shown, `the focus cannot be seen on ${what}`);
    if (there) return stop;
  }
  assert.fail(`${name} is not reached within ${MOST_STOPS} stops`);
}

for (const javaScriptEnabled of [true, false]) {
  test(`the add flow by keyboard, script ${javaScriptEnabled ? 'on' : 'off'}`, async () => {
    await visit(on, '/log', { javaScriptEnabled }, async (page) => {
      const before = await entriesToUndo(page).count();
      await open(page, `${on.server.url}/add`);
      // A field may have the focus from the start; the walk begins at the top all the same.
      await page.evaluate(() => document.activeElement?.blur());
      const { input } = await entryForm(page);
      await tabTo(page, input, 'the entry');
      await page.keyboard.type(ENTRY);
      const form = await dosePage(page, await posting(page, () => page.keyboard.press('Enter')));

      await tabTo(page, form.getByRole('button').first(), 'the button for what went in');
      const answer = await posting(page, () => page.keyboard.press('Enter'));
      assert.equal(answer.status, 303);

      await open(page, `${on.server.url}/log`);
      const entries = await entriesToUndo(page).count();
      assert.ok(entries > before, 'the entry stands in the log');
      await tabTo(page, entriesToUndo(page).first().getByRole('button').first(), 'undo');
      assert.equal((await posting(page, () => page.keyboard.press('Enter'))).status, 303);
      await open(page, `${on.server.url}/log`);
      assert.equal(await entriesToUndo(page).count(), entries - 1, 'undo takes one entry out');
    });
  });
}
