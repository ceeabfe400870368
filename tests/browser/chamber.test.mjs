// The inside of a chamber: to scale, said in a sentence, tabled, and right without a script.
import { after, before, test } from 'node:test';
import assert from 'node:assert/strict';
import { known, stage, visit } from './house.mjs';

const on = stage(before, after, 'demo', known);
const PATH = '/chamber?name=Far';

test('the picture says the same as the page, without a script', async () => {
  await visit(on, PATH, { javaScriptEnabled: false }, async (page) => {
    const words = await page.getByRole('main').innerText();
    assert.match(words, /readings have moved it/);
    const said = /Inside Far today: .*?\./.exec(words)?.[0];
    assert.ok(said, 'a sentence says what it is like');
    const drawn = await page.locator('figure.cut svg[role=img] desc').textContent();
    assert.ok(drawn.startsWith(said), `the picture says: ${drawn}`);
    assert.ok(await page.locator('table tbody tr').count() >= 12, 'a table says the same');
  });
});

test('the level noted and the torn edge stand at their heights', async () => {
  await visit(on, PATH, {}, async (page) => {
    const { shell, tick, noted } = await page.evaluate(() => {
      const svg = document.querySelector('figure.cut svg[role=img]');
      const box = (e) => { const { y, height } = e.getBBox(); return { y, height }; };
      const level = svg.querySelector('.level').textContent;
      return { shell: box(svg.querySelector('.shell')), tick: box(svg.querySelector('.tick')), noted: parseFloat(level) };
    });
    // Area of a circle below a height, as a share: what the tick must agree with.
    const h = (shell.y + shell.height - tick.y) / shell.height;
    const angle = 2 * Math.acos(1 - 2 * h);
    const share = 100 * (angle - Math.sin(angle)) / (2 * Math.PI);
    assert.ok(Math.abs(share - noted) < 1.5, `the tick stands at ${share.toFixed(1)} %, noted ${noted} %`);
  });
});

test('no label of the picture lies over another or leaves it', async () => {
  for (const name of ['Far', 'Near']) {
    await visit(on, `/chamber?name=${name}`, { viewport: { width: 320, height: 800 } }, async (page) => {
      const wrong = await page.evaluate(() => {
        const svg = document.querySelector('figure.cut svg[role=img]');
        const frame = svg.getBoundingClientRect();
        const all = [...svg.querySelectorAll('text')].map((e) => ({ t: e.textContent, b: e.getBoundingClientRect() }));
        const over = (a, b) => a.left < b.right && b.left < a.right && a.top + 4 < b.bottom && b.top + 4 < a.bottom;
        const clash = all.flatMap((a, i) => all.slice(i + 1).filter((b) => over(a.b, b.b)).map((b) => `${a.t} / ${b.t}`));
        const out = all.filter(({ b }) => b.right > frame.right + 0.5 || b.bottom > frame.bottom + 0.5).map(({ t }) => t);
        return { clash, out };
      });
      assert.deepEqual(wrong, { clash: [], out: [] }, name);
    });
  }
});
