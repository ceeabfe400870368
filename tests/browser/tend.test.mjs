// A turning is one tap and water one line, by keyboard, with a script and without; undo takes them back.
import { after, before, test } from 'node:test';
import assert from 'node:assert/strict';
import { open, stage, visit } from './house.mjs';
import { posting, tabTo } from './flows.mjs';

const on = stage(before, after);

/** Entries of the log that say exactly this and still count. */
const entries = (page, text) => page
  .locator('ul.log > li:has(form[action="/undo"])')
  .filter({ has: page.locator('p span[translate="no"]').getByText(text, { exact: true }) });

async function count(page, text) {
  await open(page, `${on.server.url}/log`);
  return entries(page, text).count();
}

/** Presses Enter on what was reached and insists on a redirect, so that a reload is harmless. */
async function enter(page) {
  const answer = await posting(page, () => page.keyboard.press('Enter'));
  assert.equal(answer.status, 303);
  return answer.location;
}

for (const javaScriptEnabled of [true, false]) {
  const how = `by keyboard, script ${javaScriptEnabled ? 'on' : 'off'}`;

  test(`Today takes a turning ${how}`, async () => {
    await visit(on, '/log', { javaScriptEnabled }, async (page) => {
      const before = await count(page, 'turned');
      await open(page, on.server.url);
      await tabTo(page, page.getByRole('button', { name: 'Turned it' }), 'the button for a turning');
      assert.equal(await enter(page), '/?done=turned');
      const said = page.getByRole('status');
      assert.match(await said.innerText(), /Turned today: Far and Near\./);
      await page.reload();
      assert.equal(await count(page, 'turned'), before + 2, 'an entry a chamber, also after a reload');
      for (let left = 1; left >= 0; left -= 1) {
        await tabTo(page, entries(page, 'turned').first().getByRole('button').first(), 'undo');
        await enter(page);
        assert.equal(await count(page, 'turned'), before + left, 'undo takes one entry back');
      }
      await open(page, on.server.url);
      assert.equal(await page.getByText('Turned today').count(), 0);
    });
  });

  test(`a chamber takes water ${how}`, async () => {
    await visit(on, '/log', { javaScriptEnabled }, async (page) => {
      const before = await count(page, 'watered: half a bucket');
      await open(page, `${on.server.url}/chamber?name=Near`);
      const field = page.locator('form[action="/watered"] input[name="amount"]');
      await tabTo(page, field, 'the field for water');
      await page.keyboard.type('lots');
      const refused = await posting(page, () => page.keyboard.press('Enter'));
      assert.equal(refused.status, 422);
      assert.match(await page.getByRole('alert').innerText(), /lots/);
      assert.equal(await field.inputValue(), 'lots', 'what was typed is kept');
      await field.fill('');
      await page.evaluate(() => document.activeElement?.blur());
      await tabTo(page, field, 'the field for water');
      await page.keyboard.type('half a bucket');
      assert.match(await enter(page), /^\/log\?noted=/);
      assert.match(await page.getByRole('status').innerText(), /Near.*watered: half a bucket/);
      assert.equal(await count(page, 'watered: half a bucket'), before + 1);
    });
  });
}
