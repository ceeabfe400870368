// Pages as they stand after something was asked or went wrong: name, address, status, and how to get there.
import assert from 'node:assert/strict';
import { posting } from './flows.mjs';

/** Fills one field of a page, sends its form, and insists on the status of the answer. */
function sent(field, value, button, status) {
  return async (page) => {
    const input = page.locator(field);
    assert.equal(await input.count(), 1, `one ${field}`);
    await input.fill(value);
    const answer = await posting(page, () => page.getByRole('button', { name: button }).click());
    assert.equal(answer.status, status, `${field} = ${value}`);
    if (status === 422) {
      assert.ok(await page.locator('.wrong[role=alert]').isVisible(), 'what is wrong stands on top');
      assert.equal(await page.locator(field).getAttribute('aria-invalid'), 'true');
      assert.equal(await page.locator(field).inputValue(), value, 'what was typed is kept');
    }
  };
}

/** Notes a look of every kind, one of which cannot be. */
async function looked(page) {
  await page.locator('#check-chamber').getByText('Far').click();
  await page.locator('input[name=squeeze][value=drips]').check();
  await page.getByText('Thermometer, creatures').click();
  await page.locator('#check-degrees').fill('85');
  await page.locator('#check-look').fill('zzqxv');
  const answer = await posting(page, () => page.getByRole('button', { name: 'Note it' }).click());
  assert.equal(answer.status, 303);
  assert.ok(await page.locator('.hollow').isVisible(), 'what cannot be is set aside in sight');
}

export const ANSWERS = [
  { name: 'a verdict', path: '/look?q=eggshell' },
  { name: 'a verdict of never', path: '/look?q=glass' },
  { name: 'nothing found', path: '/look?q=zzqxv' },
  { name: 'an answer', path: '/add/answer?entry=full+caddy%2C+leek+tops%2C+coffee' },
  { name: 'sizes for three', path: '/start?people=3' },
  { name: 'what is wrong and what to do', path: '/put-right?symptom=slimy' },
  { name: 'nothing is wrong', path: '/put-right?symptom=mould&chamber=Far' },
  { name: 'a look noted', path: '/check?chamber=Far', act: looked },
  { name: 'a slip', path: '/away?from=2026-10-03&to=2026-10-24' },
  { name: 'the workings of a rule', path: '/workings?id=mix.cn' },
];

async function unseen(page) {
  await page.getByText('Thermometer, creatures').click();
  await sent('#check-look', 'zzqxv', 'Note it', 422)(page);
}

export const ERRORS = [
  { name: 'an entry refused in part', path: '/add/answer?entry=full+caddy%2C+dog+poo', says: 'Leave out' },
  { name: 'an entry not understood in part', path: '/add/answer?entry=full+caddy%2C+zzqxv', says: 'zzqxv' },
  { name: 'an unreadable entry', path: '/add', says: 'Nothing understood',
    act: sent('#add-entry', 'zzqxv', 'What goes with it?', 422) },
  { name: 'browns not understood', path: '/add/answer?entry=full+caddy', says: 'Nothing understood',
    act: sent('#went-in-browns', 'qqq', /^Went in/, 422) },
  { name: 'no number in the household', path: '/household', says: 'is not a number',
    act: sent('#settings-caddy_l', 'lots', 'Keep it', 422) },
  { name: 'a number out of range in the household', path: '/household', says: 'outside -90 to 90',
    act: sent('#settings-latitude', '123', 'Keep it', 422) },
  { name: 'a refused line of catching up', path: '/log', says: 'Line 1',
    act: sent('#catch-up-lines', 'dog poo', 'Note them all', 422) },
  { name: 'uncounted stock', path: '/stock', says: 'Nothing understood',
    act: sent('#stock-text', 'zzqxv', 'Count it', 422) },
  { name: 'more seedlings than seeds', path: '/ready?chamber=Far', says: 'cannot come up of 20 sown',
    act: sent('#seeds-up', '30', 'Note the seeds', 422) },
  { name: 'a test not understood', path: '/ready?chamber=Far', says: 'Nothing understood',
    act: async (page) => {
      await page.locator('summary', { hasText: 'In words' }).click();
      await sent('#words-text', 'zzqxv', 'Note it', 422)(page);
    } },
  { name: 'a look not understood', path: '/check', says: 'Nothing understood', act: unseen },
  { name: 'a day that is past', path: '/away?from=2020-01-01&to=2020-01-05', status: 422, says: 'is past' },
  { name: 'no day', path: '/season?day=soon', status: 422, says: 'is not a day' },
  { name: 'no number of people', path: '/start?people=lots', status: 422, says: 'is not a number' },
  { name: 'a symptom that could be several', path: '/put-right?symptom=caddy', status: 422, says: 'could be several things' },
  { name: 'a symptom not known', path: '/put-right?symptom=zzqxv', status: 422, says: 'is not known here' },
  { name: 'an unknown id', path: '/workings?id=no.such', status: 404, says: 'no.such' },
  { name: 'no such page', path: '/nowhere', status: 404, says: 'no such page' },
];
