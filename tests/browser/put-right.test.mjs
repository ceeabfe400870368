// A smell leads to its remedy in three taps, without a script, and what was done can be taken back.
import { after, before, test } from 'node:test';
import assert from 'node:assert/strict';
import { known, open, stage, visit } from './house.mjs';
import { posting } from './flows.mjs';

const on = stage(before, after, 'demo', known);

test('smell to remedy, noted, in three taps from Today, without a script', async () => {
  await visit(on, '/', { javaScriptEnabled: false }, async (page) => {
    await page.getByRole('link', { name: /Something wrong/ }).click();
    await page.getByRole('link', { name: 'Smells rotten or sour' }).click();
    const words = await page.getByRole('main').innerText();
    assert.match(words, /chances in 20/);
    assert.match(words, /Look again on \d+ \w+ \d{4}/);
    const act = words.indexOf('chances in 20');
    assert.ok(words.indexOf(await page.locator('.big').innerText()) < act, 'the act stands before its chance');
    assert.match(words, /tells the two likeliest apart/);
    const answer = await posting(page, () => page.getByRole('button', { name: /^Done: note it/ }).first().click());
    assert.equal(answer.status, 303);
    assert.match(answer.location, /^\/log\?noted=/);
    assert.match(await page.getByRole('main').innerText(), /Put right, smells rotten/);
    const undo = page.locator('.done form[action="/undo"]').getByRole('button');
    assert.equal((await posting(page, () => undo.click())).status, 303);
  });
});

test('an amount stands in handfuls, caddies or buckets and in litres', async () => {
  await visit(on, '/put-right?symptom=slimy', { javaScriptEnabled: false }, async (page) => {
    assert.match(await page.locator('.big').innerText(), /(handful|cadd|bucket)\S* \([\d.]+.L\)/);
  });
});

test('own words are understood, or asked back', async () => {
  await visit(on, '/put-right', { javaScriptEnabled: false }, async (page) => {
    await page.locator('input[name="symptom"]').fill('it smells of amonia');
    await page.getByRole('button', { name: 'Ask' }).click();
    await page.waitForURL(/symptom=it/);
    assert.match(await page.getByRole('main').innerText(), /Smells of ammonia/);
    await open(page, `${on.server.url}/put-right?symptom=nothing+happens`, 422);
    const asked = page.getByRole('link', { name: 'Does not get warm' }).first();
    await asked.click();
    assert.match(await page.getByRole('main').innerText(), /Does not get warm/);
  });
});

test('by keyboard: a symptom, its answer, the note', async () => {
  await visit(on, '/put-right', {}, async (page) => {
    await page.getByRole('link', { name: 'Balls or clumps' }).focus();
    await page.keyboard.press('Enter');
    await page.waitForURL(/symptom=clumps/);
    await page.getByRole('button', { name: /^Done: note it/ }).first().focus();
    const answer = await posting(page, () => page.keyboard.press('Enter'));
    assert.equal(answer.status, 303);
  });
});

test('what can hurt is said', async () => {
  for (const [symptom, word] of [['mould', 'spores'], ['mould', 'dogs'], ['rodents', 'council'], ['slimy', 'fingers']]) {
    await visit(on, `/put-right?symptom=${symptom}`, {}, async (page) => {
      assert.ok((await page.locator('.flag').allInnerTexts()).join(' ').includes(word), `${symptom}: ${word}`);
    });
  }
});
