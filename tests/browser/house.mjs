// What every test shares: the pages, a server with demo data, a browser.
import { spawn } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { chromium } from 'playwright-core';

export const PAGES = [
  ['today', '/'],
  ['add', '/add'],
  ['chambers', '/chambers'],
  ['look', '/look'],
  ['stock', '/stock'],
  ['log', '/log'],
  ['workings', '/workings'],
  ['household', '/household'],
  ['start', '/start'],
  ['more', '/more'],
  ['chamber', '/chamber'],
  ['when', '/when'],
  ['put-right', '/put-right'],
  ['ready', '/ready'],
  ['heat', '/heat'],
  ['check', '/check'],
  ['season', '/season'],
  ['away', '/away'],
  ['handover', '/handover'],
];

export const SCHEMES = ['light', 'dark'];

const BINARY = process.env.LOAMWRIGHT_BIN
  ?? fileURLToPath(new URL('../../target/release/loamwright', import.meta.url));

const PATIENCE_MS = 20_000;

/** Starts the program, with demo data or with an empty journal, and waits until it says where it listens. */
export async function serve(command = 'demo') {
  // A home of its own, so that no journal of the person at this machine is touched.
  const home = mkdtempSync(join(tmpdir(), 'loamwright-'));
  const child = spawn(BINARY, [command, '--port', '0'], {
    cwd: home,
    env: { PATH: process.env.PATH, HOME: home, XDG_DATA_HOME: home, TZ: 'UTC', LANG: 'C.UTF-8' },
    stdio: ['ignore', 'ignore', 'pipe'],
  });
  let said = '';
  const url = await new Promise((resolve, reject) => {
    const late = setTimeout(
      () => fail(`no "listening on" line within ${PATIENCE_MS} ms`),
      PATIENCE_MS,
    );
    const fail = (why) => {
      clearTimeout(late);
      child.kill('SIGKILL');
      rmSync(home, { recursive: true, force: true });
      reject(new Error(`${BINARY} ${command}: ${why}\n${said}`));
    };
    child.once('error', (error) => fail(error.message));
    child.once('exit', (code, signal) => fail(`ended at once (${code ?? signal})`));
    child.stderr.setEncoding('utf8').on('data', (text) => {
      said += text;
      const found = /listening on (http:\/\/127\.0\.0\.1:\d+)/.exec(said);
      if (found) {
        clearTimeout(late);
        resolve(found[1]);
      }
    });
  });
  child.removeAllListeners('exit');
  return {
    url,
    said: () => said,
    async stop() {
      if (child.exitCode === null && child.signalCode === null) {
        const ended = new Promise((resolve) => child.once('exit', resolve));
        child.kill('SIGTERM');
        const hard = setTimeout(() => child.kill('SIGKILL'), 5_000);
        await ended;
        clearTimeout(hard);
      }
      rmSync(home, { recursive: true, force: true });
    },
  };
}

export function launch() {
  return chromium.launch({
    executablePath: '/usr/bin/chromium',
    args: [
      '--no-sandbox',
      '--disable-dev-shm-usage',
      '--disable-background-networking',
      '--disable-component-update',
      '--disable-sync',
      '--no-first-run',
    ],
  });
}

/** Server and browser for one file of tests; `use(before, after)` wires them up. */
export function stage(before, after, command = 'demo', ready = async () => {}) {
  const on = {};
  before(async () => {
    on.server = await serve(command);
    await ready(on);
    on.browser = await launch();
  });
  after(async () => {
    await on.browser?.close();
    await on.server?.stop();
  });
  return on;
}

/** Waits until the server has worked out both forecasts and the year of the demo household; no page waits for them. */
export async function known(on) {
  const until = Date.now() + 300_000;
  for (const path of ['/when?chamber=Far', '/when?chamber=Near', '/season']) {
    while ((await (await fetch(on.server.url + path)).text()).includes('is being worked out')) {
      if (Date.now() > until) throw new Error(`${path} is still being worked out`);
      await new Promise((again) => setTimeout(again, 500));
    }
  }
}

/** Opens an address in a fresh context and hands the page over; the context is closed after. */
export async function visit(on, path, { status = 200, ...options } = {}, look) {
  const context = await on.browser.newContext({ viewport: { width: 390, height: 844 }, ...options });
  try {
    const page = await context.newPage();
    page.setDefaultTimeout(10_000);
    await open(page, on.server.url + path, status);
    return await look(page, context);
  } finally {
    await context.close();
  }
}

/** Goes to an address and insists on an HTML answer of the status. */
export async function open(page, url, status = 200) {
  const answer = await page.goto(url, { waitUntil: 'load' });
  const type = answer.headers()['content-type'] ?? 'no content type';
  if (answer.status() !== status || !type.startsWith('text/html')) {
    throw new Error(`${url} answered ${answer.status()} with ${type}; wanted ${status}`);
  }
  return answer;
}
