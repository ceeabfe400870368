// The steps of adding a caddy, named by what a person sees.
import assert from 'node:assert/strict';

export const ENTRY = 'full caddy, cucumber';
export const MATERIAL = /cucumber/i;

/** The one form that takes an entry: a text input named entry, and a submit. */
export async function entryForm(page) {
  const form = page.locator('form:has(input[name="entry"])');
  assert.equal(await form.count(), 1, 'the page has exactly one form with an entry');
  const input = form.locator('input[name="entry"]');
  assert.equal(await input.count(), 1, 'the form has exactly one entry');
  assert.match((await input.getAttribute('type')) ?? 'text', /^(text|search)$/);
  assert.ok(await form.getByRole('button').count() >= 1, 'the form has a button');
  return { form, input };
}

/** Does something that posts a form; gives the answer to the post, and checks where it leads. */
export async function posting(page, act) {
  const [answer] = await Promise.all([
    page.waitForResponse((r) => r.request().method() === 'POST'),
    page.waitForEvent('load'),
    act(),
  ]);
  return { status: answer.status(), location: answer.headers()['location'] ?? '' };
}

/** The page after an entry: the dose, and the form that says what went in. */
export async function dosePage(page, answer) {
  assert.equal(answer.status, 303, 'a post is answered by a redirect, so that reload is harmless');
  assert.match(answer.location, /\/add\/[^/]+/);
  assert.match(new URL(page.url()).pathname, /^\/add\/[^/]+/);
  const words = await page.getByRole('main').innerText();
  assert.match(words, MATERIAL, 'what was understood is echoed');
  assert.match(words, /\d+\s+(\S+\s+){0,3}handful|handful\D{0,40}\d/i, 'the dose is a number of handfuls');
  const form = page.locator('form').filter({ hasText: /went in/i });
  assert.ok(await form.count() >= 1, 'a form says what went in');
  assert.ok(await form.first().getByRole('button').count() >= 1, 'that form has a button');
  return form.first();
}

/** The undo forms of the log whose entry names the material. */
export function entriesToUndo(page) {
  return page
    .locator('main :is(li, tr, article):has(form[action="/undo"])')
    .filter({ hasText: MATERIAL });
}

const MOST_STOPS = 60;

/** Presses Tab until the wanted element has the focus; every stop on the way must show it. */
export async function tabTo(page, wanted, name) {
  const target = await wanted.elementHandle();
  assert.ok(target, `${name} is on the page`);
  for (let stop = 1; stop <= MOST_STOPS; stop += 1) {
    await page.keyboard.press('Tab');
    const { there, shown, what } = await page.evaluate((target) => {
      const at = document.activeElement;
      const style = getComputedStyle(at);
      const outlined = style.outlineStyle !== 'none' && parseFloat(style.outlineWidth) >= 2;
      return {
        there: at === target,
        shown: at === document.body || outlined || style.boxShadow !== 'none',
        what: at.outerHTML.slice(0, 80),
      };
    }, target);
    assert.ok(shown, `the focus cannot be seen on ${what}`);
    if (there) return stop;
  }
  assert.fail(`${name} is not reached within ${MOST_STOPS} stops`);
}
