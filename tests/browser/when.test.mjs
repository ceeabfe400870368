// When it can be used: doubt first, twenty dots to scale, a ladder, and no wait.
import { after, before, test } from 'node:test';
import assert from 'node:assert/strict';
import { known, stage, visit } from './house.mjs';

const on = stage(before, after, 'demo', known);

test('what it rests on comes before the date, without a script', async () => {
  await visit(on, '/when?chamber=Far', { javaScriptEnabled: false }, async (page) => {
    const words = await page.getByRole('main').innerText();
    const order = ['have moved it', 'likely', 'promise it to no bed', 'Fit for what', 'What would move it'];
    const at = order.map((text) => words.indexOf(text));
    assert.ok(at.every((place, n) => place >= 0 && (n === 0 || place > at[n - 1])), `${order} at ${at}`);
  });
});

test('twenty dots, those on the line in the order of their dates', async () => {
  for (const rung of ['planted_bed', 'pots', 'mulch']) {
    await visit(on, `/when?chamber=Far&rung=${rung}`, {}, async (page) => {
      const seen = await page.evaluate(() => {
        const of = (css) => [...document.querySelectorAll(`.dots svg ${css}`)];
        const xs = of('.dot').map((e) => Number(e.getAttribute('cx')));
        const places = of('circle').map((e) => `${e.getAttribute('cx')},${e.getAttribute('cy')}`);
        return { xs, far: of('.far').length, apart: new Set(places).size, gone: of('.gone').length };
      });
      assert.equal(seen.xs.length + seen.far, 20);
      assert.equal(seen.apart, 20, 'no dot lies on another');
      assert.deepEqual(seen.xs, [...seen.xs].sort((a, b) => a - b));
      const words = await page.locator('.ladder .shown').innerText();
      assert.equal(Number(/(\d+) of 20 by today/.exec(words)[1]), seen.gone, 'dots before today are those counted');
    });
  }
});

test('the ladder has five rungs and each leads to its dots', async () => {
  await visit(on, '/when?chamber=Far', { javaScriptEnabled: false }, async (page) => {
    assert.equal(await page.locator('.ladder > li').count(), 5);
    await page.getByRole('link', { name: 'Dots for pots' }).click();
    assert.match(await page.locator('.big').innerText(), /pots/);
  });
});
