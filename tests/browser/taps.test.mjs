// Taps counted from Today: links, buttons, folds and choices. Letters typed into a field are no taps; its fields are counted
// beside them. Each flow is walked with a script and without, and takes back what it noted.
import { after, before, test } from 'node:test';
import assert from 'node:assert/strict';
import { known, open, stage, visit } from './house.mjs';
import { posting } from './flows.mjs';

const on = stage(before, after, 'demo', known);
const SMALL = { viewport: { width: 360, height: 740 } };

/** A hand on the page: every tap lands on one thing that is there to be seen, large enough, and is counted. */
function hand(page) {
  const done = { taps: 0, fields: 0 };
  const sole = async (target) => {
    assert.equal(await target.count(), 1, `one of ${target}`);
    await target.scrollIntoViewIfNeeded();
    const box = await target.boundingBox();
    assert.ok(box && box.height >= 24, `${target} can be hit`);
    return target;
  };
  return {
    done,
    async tap(target) {
      done.taps += 1;
      await (await sole(target)).click();
    },
    async follow(target) {
      await Promise.all([page.waitForEvent('load'), this.tap(target)]);
    },
    async post(target) {
      const answer = await posting(page, () => this.tap(target));
      assert.equal(answer.status, 303, 'noted, and a reload is harmless');
      return answer.location;
    },
    async type(field, text) {
      done.fields += 1;
      await (await sole(page.locator(field))).fill(text);
    },
  };
}

/** Takes back what the page says was noted last. */
async function undo(page) {
  const button = page.locator('.done form[action="/undo"]').getByRole('button');
  assert.equal((await posting(page, () => button.click())).status, 303);
}

const words = (page) => page.getByRole('main').innerText();
const tipInto = async (page) => /into (\S+?):/.exec(await words(page))?.[1];
const bar = (page, name) => page.getByRole('navigation').getByRole('link', { name, exact: true });

for (const javaScriptEnabled of [true, false]) {
  const how = `script ${javaScriptEnabled ? 'on' : 'off'}`;
  const from = { ...SMALL, javaScriptEnabled };

  test(`close one chamber and start the other: 3 taps, ${how}`, async () => {
    // The other one is empty: what was in it went out before.
    await visit(on, '/chambers', from, async (page, context) => {
      await page.locator('summary', { hasText: 'Empty Far' }).click();
      await posting(page, () => page.getByRole('button', { name: 'Far is empty now' }).click());
      const emptied = page.url();

      const today = await context.newPage();
      await open(today, on.server.url);
      assert.equal(await tipInto(today), 'Near');
      const it = hand(today);
      await it.follow(bar(today, 'Chambers'));
      await it.tap(today.locator('summary', { hasText: /^Close Near/ }));
      await it.post(today.getByRole('button', { name: 'Close Near now' }));
      assert.deepEqual(it.done, { taps: 3, fields: 0 });
      const closed = today.url();
      await open(today, on.server.url);
      assert.equal(await tipInto(today), 'Far', 'the next caddy starts the other');

      await open(today, closed);
      await undo(today);
      await open(page, emptied);
      await undo(page);
      await open(today, on.server.url);
      assert.equal(await tipInto(today), 'Near', 'as it was');
    });
  });

  test(`smell to remedy, noted: 3 taps, ${how}`, async () => {
    await visit(on, '/', from, async (page) => {
      const it = hand(page);
      await it.follow(page.getByRole('link', { name: /Something wrong/ }));
      await it.follow(page.getByRole('link', { name: 'Smells rotten or sour' }));
      assert.ok((await page.locator('.big').innerText()).length > 10, 'the remedy stands there after two');
      assert.match(await words(page), /chances in 20/);
      await it.post(page.locator('.answer ~ .noting').first().getByRole('button', { name: /^Done: note it/ }));
      assert.deepEqual(it.done, { taps: 3, fields: 0 });
      assert.match(await words(page), /Put right, smells rotten/);
      await undo(page);
    });
  });

  test(`a seed test: at most 4 taps and 2 counts, ${how}`, async () => {
    await visit(on, '/', from, async (page) => {
      const it = hand(page);
      await it.follow(bar(page, 'More'));
      await it.follow(page.getByRole('main').getByRole('link', { name: /^Ready\?/ }));
      assert.match(await words(page), /May I use Far now/, 'the one closed longest is asked about');
      await it.type('#seeds-up', '17');
      await it.type('#seeds-control_up', '19');
      await it.post(page.getByRole('button', { name: 'Note the seeds' }));
      assert.ok(it.done.taps <= 4, `${it.done.taps} taps`);
      assert.deepEqual(it.done, { taps: 3, fields: 2 });
      const said = page.getByRole('status');
      assert.match(await said.innerText(), /17 of 20 came up/);
      assert.equal((await posting(page, () => said.getByRole('button').click())).status, 303);
    });
  });

  test(`going away: 3 taps and 2 days, ${how}`, async () => {
    // What was noted before is being followed: the year is waited for, so that its level stands there.
    await known(on);
    await visit(on, '/', from, async (page) => {
      const it = hand(page);
      await it.follow(bar(page, 'More'));
      await it.follow(page.getByRole('main').getByRole('link', { name: /^Going away/ }));
      await it.type('#away-from', '2026-10-03');
      await it.type('#away-to', '2026-10-10');
      await it.follow(page.getByRole('button', { name: /slip/ }));
      assert.deepEqual(it.done, { taps: 3, fields: 2 });
      const said = await words(page);
      assert.match(said, /Before you go/);
      assert.match(said, /For whoever looks after it/);
      assert.match(said, /(should have room|nearly full)/, 'the level of those weeks is told');
    });
  });
}
