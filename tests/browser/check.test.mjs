// A look inside: three taps, by keyboard and without a script, one-handed on a small screen.
import { after, before, test } from 'node:test';
import assert from 'node:assert/strict';
import { open, stage, visit } from './house.mjs';
import { posting } from './flows.mjs';

const on = stage(before, after);
const SMALL = { viewport: { width: 360, height: 740 } };

for (const javaScriptEnabled of [true, false]) {
  const script = `script ${javaScriptEnabled ? 'on' : 'off'}`;

  test(`three taps from Today note a squeeze, ${script}`, async () => {
    await visit(on, '/', { ...SMALL, javaScriptEnabled }, async (page) => {
      await page.getByRole('link', { name: 'Note what you saw inside' }).click();
      await page.locator('label:has(input[name=squeeze][value=drips])').click();
      const answer = await posting(page, () => page.getByRole('button', { name: 'Note it' }).click());
      assert.equal(answer.status, 303);
      const words = await page.getByRole('main').innerText();
      assert.match(words, /Squeeze: one to three drops/);
      assert.match(words, /It is wet\./);
      const undo = await posting(page, () => page.getByRole('button', { name: 'Undo' }).click());
      assert.equal(undo.status, 303);
    });
  });

  test(`by keyboard alone, ${script}`, async () => {
    await visit(on, '/check?chamber=Far', { ...SMALL, javaScriptEnabled }, async (page) => {
      let seen = '';
      for (let stop = 0; stop < 40 && seen !== 'squeeze'; stop += 1) {
        await page.keyboard.press('Tab');
        seen = await page.evaluate(() => document.activeElement?.getAttribute('name') ?? '');
      }
      assert.equal(seen, 'squeeze');
      // From "not looked at", round to the first grade and on to the next.
      await page.keyboard.press('ArrowDown');
      await page.keyboard.press('ArrowDown');
      const grade = await page.locator('input[name=squeeze]:checked').getAttribute('value');
      assert.equal(grade, 'crumbles');
      const answer = await posting(page, () => page.keyboard.press('Enter'));
      assert.equal(answer.status, 303);
      assert.match(await page.getByRole('main').innerText(), /Squeeze: crumbles/);
    });
  });
}

test('a reload after sending notes nothing twice', async () => {
  await visit(on, '/check?chamber=Near', SMALL, async (page) => {
    await page.locator('label:has(input[name=squeeze][value=runs])').click();
    await posting(page, () => page.getByRole('button', { name: 'Note it' }).click());
    const place = page.url();
    await page.reload();
    assert.equal(page.url(), place);
    await open(page, `${on.server.url}/log`);
    assert.equal(await page.locator('.log > li', { hasText: 'squeeze runs' }).filter({ hasNotText: 'drops' }).count(), 1);
  });
});

test('choices and the button are large enough for a glove', async () => {
  await visit(on, '/check', SMALL, async (page) => {
    const small = await page.evaluate(() => {
      for (const fold of document.querySelectorAll('details')) fold.open = true;
      return [...document.querySelectorAll('.pick label, .check summary, .check button, .check .field input')]
        .map((e) => [e.getBoundingClientRect().height, e.outerHTML.slice(0, 80)])
        .filter(([height]) => height < 55.9);
    });
    assert.deepEqual(small, []);
    const wide = await page.evaluate(() => document.documentElement.scrollWidth);
    assert.ok(wide <= 360, `${wide} px wide`);
    // The button stands at the thumb from the start.
    const button = await page.getByRole('button', { name: 'Note it' }).boundingBox();
    assert.ok(button.y > 740 / 2 && button.y + button.height <= 740, JSON.stringify(button));
  });
});

test('the token of a probe is shown once', async () => {
  await visit(on, '/household', SMALL, async (page) => {
    await page.locator('#probe-name').fill('core-1');
    await page.getByRole('button', { name: 'Make it known' }).click();
    const token = await page.locator('code').innerText();
    assert.match(token, /^[0-9a-f]{64}$/);
    const send = () => fetch(`${on.server.url}/api/readings`, {
      method: 'POST',
      headers: { authorization: `Bearer ${token}`, 'content-type': 'application/json' },
      body: JSON.stringify([{ sensor: 'core-1', at: '2026-09-18T10:00:00Z', celsius: 31.5 }]),
    });
    const first = await send();
    assert.equal(first.status, 202);
    assert.equal((await first.json()).taken, 1);
    assert.equal((await (await send()).json()).known, 1);
    await open(page, `${on.server.url}/household`);
    const words = await page.getByRole('main').innerText();
    assert.match(words, /core-1 in (Near|Far): 32 °C/);
    assert.ok(!words.includes(token));
  });
});
