// Every flow works without a script.
import { after, before, test } from 'node:test';
import assert from 'node:assert/strict';
import { open, stage, visit } from './house.mjs';
import { ENTRY, MATERIAL, dosePage, entriesToUndo, entryForm, posting } from './flows.mjs';

const on = stage(before, after);
const NO_SCRIPT = { javaScriptEnabled: false };

async function add(page, entry = ENTRY) {
  await open(page, `${on.server.url}/add`);
  const { form, input } = await entryForm(page);
  await input.fill(entry);
  return posting(page, () => form.getByRole('button').last().click());
}

test('an entry gives a dose, stands in the log, and can be undone', async () => {
  await visit(on, '/log', NO_SCRIPT, async (page) => {
    const before = await entriesToUndo(page).count();
    const form = await dosePage(page, await add(page));
    assert.equal((await posting(page, () => form.getByRole('button').first().click())).status, 303);

    await open(page, `${on.server.url}/log`);
    assert.equal(await entriesToUndo(page).count(), before + 1, 'the log shows the entry once');

    const undo = entriesToUndo(page).first().locator('form[action="/undo"]').getByRole('button');
    const answer = await posting(page, () => undo.click());
    assert.equal(answer.status, 303);
    await open(page, `${on.server.url}/log`);
    assert.equal(await entriesToUndo(page).count(), before, 'undo takes it out of the log');
  });
});

test('what went in is noted in one step', async () => {
  await visit(on, '/add', NO_SCRIPT, async (page) => {
    const form = await dosePage(page, await add(page));
    const answer = await posting(page, () => form.getByRole('button').first().click());
    assert.equal(answer.status, 303);
    await open(page, `${on.server.url}/log`);
    const words = await page.getByRole('main').innerText();
    assert.match(words, MATERIAL);
    assert.match(words, /handful/i, 'the browns that went in stand in the log');
  });
});

test('reloading makes no entry before and no second one after', async () => {
  await visit(on, '/log', NO_SCRIPT, async (page) => {
    const before = await entriesToUndo(page).count();
    const form = await dosePage(page, await add(page));
    await page.reload();
    assert.ok(form);
    const again = page.locator('form').filter({ hasText: /went in/i }).first();
    await posting(page, () => again.getByRole('button').first().click());
    await page.reload();
    await page.reload();
    await open(page, `${on.server.url}/log`);
    assert.equal(await entriesToUndo(page).count(), before + 1);
  });
});

test('an unknown word keeps the entry and is named', async () => {
  await visit(on, '/add', NO_SCRIPT, async (page) => {
    const entry = 'full caddy, zzqxv';
    const answer = await add(page, entry);
    assert.ok(answer.status < 500, `answered ${answer.status}`);
    assert.match(await page.getByRole('main').innerText(), /zzqxv/);
    const { input } = await entryForm(page);
    assert.equal(await input.inputValue(), entry, 'the entry is kept for mending');
  });
});

test('looking a material up gives its verdict', async () => {
  await visit(on, '/look', NO_SCRIPT, async (page) => {
    const form = page.locator('form:has(input[name="q"])');
    assert.equal(await form.count(), 1, 'the page has one form with a question');
    await form.locator('input[name="q"]').fill('eggshell');
    await form.getByRole('button').last().click();
    await page.waitForURL(/\/look\?(.*&)?q=eggshell/);
    const words = await page.getByRole('main').innerText();
    assert.match(words, /eggshell/i);
    // The verdict on eggshells is: rinse, dry and crush them first.
    assert.match(words, /\byes\b|goes? in/i, 'the verdict is said in words');
    assert.match(words, /crush/i, 'the condition of the verdict is said');
  });
});
