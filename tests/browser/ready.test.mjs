// May I use it now: the answer before the reasons, a test in four taps, by keyboard and without a script; the heat record.
import { after, before, test } from 'node:test';
import assert from 'node:assert/strict';
import { known, open, stage, visit } from './house.mjs';
import { posting } from './flows.mjs';

const on = stage(before, after, 'demo', known);
const PATH = '/ready?chamber=Near';

test('the answer stands before the rungs, and the rungs before the forms', async () => {
  await visit(on, '/ready?chamber=Far', { javaScriptEnabled: false }, async (page) => {
    const words = await page.getByRole('main').innerText();
    const order = ['May I use Far now?', 'in 20', 'Fit for what', 'Tests of this batch', 'Note a test'];
    const at = order.map((text) => words.indexOf(text));
    assert.ok(at.every((place, n) => place >= 0 && (n === 0 || place > at[n - 1])), `${order} at ${at}`);
    assert.equal(await page.locator('.ladder > li').count(), 5);
    assert.match(words, /no bag or flask test is noted/, 'pots wait for a test of breath');
  });
});

for (const javaScriptEnabled of [true, false]) {
  test(`a seed test by keyboard, script ${javaScriptEnabled ? 'on' : 'off'}, once, with undo`, async () => {
    await visit(on, PATH, { javaScriptEnabled }, async (page) => {
      await page.locator('#seeds-up').focus();
      await page.keyboard.type('17');
      await page.keyboard.press('Tab');
      await page.keyboard.press('Tab');
      await page.keyboard.type('19');
      const answer = await posting(page, () => page.keyboard.press('Enter'));
      assert.equal(answer.status, 303);
      assert.match(await page.getByRole('status').innerText(), /17 of 20 came up/);
      await page.reload();
      const listed = () => page.locator('.log > li').filter({ hasText: '17 of 20 came up' }).count();
      assert.equal(await listed(), 1, 'a reload makes no second entry');
      const undone = await posting(page, () => page.getByRole('status').getByRole('button').click());
      assert.equal(undone.status, 303);
      await open(page, on.server.url + PATH);
      assert.equal(await listed(), 0, 'undo takes it out');
    });
  });
}

test('a bag is one tap', async () => {
  await visit(on, PATH, { javaScriptEnabled: false, viewport: { width: 320, height: 640 } }, async (page) => {
    const answer = await posting(page, () => page.getByRole('button', { name: 'Sour' }).click());
    assert.equal(answer.status, 303);
    assert.match(await page.getByRole('status').innerText(), /Bag: sour/);
    await posting(page, () => page.getByRole('status').getByRole('button').click());
  });
});

test('the heat record claims nothing for what was not read', async () => {
  await visit(on, '/heat?name=Far', { javaScriptEnabled: false }, async (page) => {
    const words = await page.getByRole('main').innerText();
    assert.match(words, /Core only: the shell was not read/);
    assert.ok(await page.locator('.criteria > li').count() >= 12);
    assert.doesNotMatch(words, /\bsafe\b|certified|pathogen-free/i);
    assert.doesNotMatch(words, /Met, core and shell/);
  });
});
