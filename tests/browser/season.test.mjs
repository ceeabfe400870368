// The year: the week first, two strips to one scale, a plan; going away in three taps, and a slip.
import { after, before, test } from 'node:test';
import assert from 'node:assert/strict';
import { known, stage, visit } from './house.mjs';

const on = stage(before, after, 'demo', known);
const NO_SCRIPT = { javaScriptEnabled: false };

test('the week without room comes first, then what to do, then what it rests on', async () => {
  await visit(on, '/season', NO_SCRIPT, async (page) => {
    const words = await page.getByRole('main').innerText();
    const order = ['oom', 'of 20 runs', 'move the caddies there', 'What helps, least work first', 'not a look inside'];
    const at = order.map((text) => words.indexOf(text));
    assert.ok(at.every((place, n) => place >= 0 && (n === 0 || place > at[n - 1])), `${order} at ${at}`);
  });
});

test('each strip has twelve months of both chambers, none higher than its walls', async () => {
  await visit(on, '/season', {}, async (page) => {
    const seen = await page.evaluate(() => [...document.querySelectorAll('.year svg')].map((svg) => {
      const walls = [...svg.querySelectorAll('.walls')].map((e) => e.getBBox());
      const over = [...svg.querySelectorAll('.mix')].filter((e) => {
        const box = e.getBBox();
        return !walls.some((w) => Math.abs(w.x - box.x) < 1 && box.y >= w.y - 1 && box.y + box.height <= w.y + w.height + 1);
      });
      return { walls: walls.length, over: over.length };
    }));
    assert.deepEqual(seen, [{ walls: 24, over: 0 }, { walls: 24, over: 0 }]);
  });
});

test('a strip has its numbers in a table', async () => {
  await visit(on, '/season', NO_SCRIPT, async (page) => {
    await page.getByText('Doing as now, month by month').click();
    const table = page.locator('table').first();
    assert.equal(await table.locator('tbody tr').count(), 12);
    assert.match(await table.innerText(), /filling,( nearly full,)? about \d+\sL/);
  });
});

test('going away takes two days and a button, and gives a slip', async () => {
  await visit(on, '/season', NO_SCRIPT, async (page) => {
    await page.locator('#away-from').fill('2026-10-03');
    await page.locator('#away-to').fill('2026-10-10');
    await Promise.all([page.waitForEvent('load'), page.getByRole('button', { name: /slip/ }).click()]);
    const words = await page.getByRole('main').innerText();
    assert.match(words, /Before you go/);
    assert.match(words, /Nothing has to be done/);
    assert.equal(await page.locator('#away-from').inputValue(), '2026-10-03', 'the days stay');
  });
});

test('days the wrong way round are named beside their field', async () => {
  await visit(on, '/away?from=2026-10-10&to=2026-10-03', { status: 422 }, async (page) => {
    assert.ok(await page.locator('.wrong[role=alert]').isVisible());
    assert.equal(await page.locator('#away-to').getAttribute('aria-invalid'), 'true');
  });
});

test('today has one line about it', async () => {
  await visit(on, '/', NO_SCRIPT, async (page) => {
    assert.equal(await page.locator('a[href="/season"]').count(), 1);
  });
});
