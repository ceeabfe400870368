// The caddy is added with Tab and Enter only, and it is always plain where one is.
import { after, before, test } from 'node:test';
import assert from 'node:assert/strict';
import { open, stage, visit } from './house.mjs';
import { ENTRY, dosePage, entriesToUndo, entryForm, posting, tabTo } from './flows.mjs';

const on = stage(before, after);

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
