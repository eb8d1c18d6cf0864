// The walls of random parts, measured on a solid modeller that knows nothing
// of our formulas: the part, its holes and its bores are made as solids, and
// the gaps between solids are measured.
//
//   node walls.mjs          writes walls.csv and measured.sha256
//   node walls.mjs --check  measures again and fails where walls.csv differs
//
// What comes out depends on this file, on the modeller that package-lock.json
// names and on nothing else of ours, so measured.sha256 says what they were and
// what the table was: sha256sum --check measured.sha256 tells whether there is
// anything to measure again. What our formulas say of the same parts is
// compared with the table by a test of setup/plan/walls, every time.
//
// Round solids have 360 sides, so that a radius of 30 mm is short by less than
// 0.0012 mm between two corners; drills have 72, short by less than 0.01 mm
// at a radius of 10 mm. A figure below 0 has no gap to measure: the
// table then says "<0". A figure the modeller cannot give as it is defined is
// left empty.
//
// z runs along the bar. Rolls are counter-clockwise seen from the right end,
// where z is largest; roll 0 is up, which is y here.
import Module from 'manifold-3d';
import { createHash } from 'node:crypto';
import { readFileSync, writeFileSync } from 'node:fs';

const wasm = await Module();
wasm.setup();
const { Manifold } = wasm;

const SIDES = 360, DRILL = 72, FAR = 100, THIN = 0.001;

// A generator of random numbers that is the same everywhere (mulberry32).
let state = 20260101;
function random() {
  state = (state + 0x6d2b79f5) | 0;
  let t = Math.imul(state ^ (state >>> 15), 1 | state);
  t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
  return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
}
const between = (a, b, places = 2) => Number((a + (b - a) * random()).toFixed(places));
const choose = (...list) => list[Math.floor(random() * list.length)];
const rad = (deg) => (deg * Math.PI) / 180;

// A random part: 2 to 5 stretches, some with a shoulder between, perhaps with
// facets on one of them, an arc on another, bores, and 2 to 6 holes through.
function makePart() {

  const n = choose(2, 3, 4, 5);
  const stations = [];
  let z = 0, d = between(16, 50);
  stations.push([z, d]);
  for (let i = 0; i < n; i++) {
    z = Number((z + between(14, 40)).toFixed(2));
    const next = choose(d, between(Math.max(10, d * 0.6), Math.min(60, d * 1.5)));
    stations.push([z, next]);
    d = next;
    if (i < n - 1 && random() < 0.4) {
      d = between(12, 55);
      stations.push([z, d]);
    }
  }
  const spans = [];
  for (let i = 1; i < stations.length; i++) {
    if (stations[i][0] > stations[i - 1][0]) spans.push([stations[i - 1], stations[i]]);
  }
  const part = { stations, arcs: [], facets: [], bores: [], holes: [], length: z };
  if (random() < 0.6) {
    const [a, b] = choose(...spans);
    const sides = choose(3, 4, 5, 6, 7, 8, 10, 12);
    const across = sides % 2 ? 'corners' : choose('flats', 'corners');
    part.facets.push({ sides, from: a[0], to: b[0], across, roll: between(0, 360, 1) });
  }
  if (random() < 0.3) {
    const free = spans.filter(([a]) => !part.facets.some((f) => f.from === a[0]));
    if (free.length) {
      const [a, b] = choose(...free);
      part.arcs.push({ from: a[0], to: b[0], radius: between(120, 400, 0), bulge: choose('out', 'in') });
    }
  }
  const thinnest = Math.min(...stations.map((s) => s[1]));
  for (const from of ['left', 'right']) {
    if (random() < 0.35) {
      part.bores.push({ from, dia: between(2, thinnest * 0.3), depth: between(5, z * 0.4) });
    }
  }
  const rolls = [0, 30, 45, 60, 90, 120, 135, 150, 180, 270];
  const count = choose(2, 3, 4, 5, 6);
  for (let i = 0; i < count; i++) {
    const at = between(3, z - 3);
    const r = radiusAt(part, at) * (part.facets.length ? 0.5 : 1);
    const hole = { at, dia: between(0.06 * r, 0.45 * r), roll: choose(...rolls), offset: choose(0, 0, between(-0.3 * r, 0.3 * r)) };
    if (random() < 0.15 && i > 0) { // a row
      hole.at = Math.min(Number((part.holes[i - 1].at + hole.dia + between(1, 6)).toFixed(2)), z - 2);
      hole.roll = part.holes[i - 1].roll;
    }
    part.holes.push(hole);
  }
  return part;
}

function radiusAt(part, z) {
  let r = Infinity;
  for (let i = 1; i < part.stations.length; i++) {
    const [a, b] = [part.stations[i - 1], part.stations[i]];
    if (a[0] < b[0] && a[0] <= z && z <= b[0]) {
      r = Math.min(r, (a[1] + ((b[1] - a[1]) * (z - a[0])) / (b[0] - a[0])) / 2);
    }
  }
  return r;
}

// The stretches of the outside, arcs cut in 60 short cones.
function stretches(part) {
  const list = [];
  for (let i = 1; i < part.stations.length; i++) {
    const [a, b] = [part.stations[i - 1], part.stations[i]];
    if (a[0] === b[0]) continue;
    const arc = part.arcs.find((x) => x.from === a[0]);
    const facets = part.facets.find((x) => x.from === a[0]);
    if (!arc) {
      list.push({ z1: a[0], z2: b[0], r1: a[1] / 2, r2: b[1] / 2, facets });
      continue;
    }
    // Points of a circle through both ends, by bisecting for its centre's height
    // over the chord's middle.
    const [dz, dr] = [b[0] - a[0], (b[1] - a[1]) / 2];
    const half = Math.hypot(dz, dr) / 2, lift = Math.sqrt(arc.radius ** 2 - half ** 2);
    const sign = arc.bulge === 'out' ? -1 : 1; // the centre is toward the axis when it bulges out
    const mid = [(a[0] + b[0]) / 2, (a[1] + b[1]) / 4];
    const up = [-dr / (2 * half), dz / (2 * half)]; // square to the chord, away from the axis
    const centre = [mid[0] + sign * lift * up[0], mid[1] + sign * lift * up[1]];
    const point = (t) => { // along the chord, then out to the circle
      const p = [a[0] + dz * t, a[1] / 2 + dr * t];
      const along = (p[0] - mid[0]) * (dz / (2 * half)) + (p[1] - mid[1]) * (dr / (2 * half));
      const rise = Math.sqrt(arc.radius ** 2 - along ** 2) - lift;
      return [p[0] - sign * rise * up[0], p[1] - sign * rise * up[1]];
    };
    if (Math.abs(Math.hypot(point(0.3)[0] - centre[0], point(0.3)[1] - centre[1]) - arc.radius) > 1e-9) throw new Error('arc');
    const steps = 60;
    for (let k = 0; k < steps; k++) {
      const [p, q] = [point(k / steps), point((k + 1) / steps)];
      list.push({ z1: p[0], z2: q[0], r1: p[1], r2: q[1] });
    }
  }
  return list;
}

// One stretch as a solid, a hair longer at both ends, so that stretches overlap
// and no film of air is left between two.
const HAIR = 0.0005;
function solid(s) {
  let [r1, r2, n, turn] = [s.r1, s.r2, SIDES, 0];
  if (s.facets) {
    n = s.facets.sides;
    const k = s.facets.across === 'corners' ? 1 : 1 / Math.cos(Math.PI / n);
    [r1, r2] = [r1 * k, r2 * k];
    turn = 90 + s.facets.roll - 180 / n; // a flat's normal along its roll
  }
  return Manifold.cylinder(s.z2 - s.z1 + 2 * HAIR, r1, r2, n).rotate([0, 0, turn]).translate([0, 0, s.z1 - HAIR]);
}

// A cylinder along a hole, long enough to come out on both sides; half the
// length for the disc in the middle.
function drill(h, half = FAR) {
  return Manifold.cylinder(2 * half, h.dia / 2, h.dia / 2, DRILL, true)
    .rotate([90, 0, 0]).translate([-h.offset, 0, h.at]).rotate([0, 0, h.roll]);
}

function bore(b, length) {
  const r = b.dia / 2, point = r / Math.tan(rad(59));
  let m = Manifold.cylinder(b.depth, r, r, DRILL).add(Manifold.cylinder(point, r, 0, DRILL).translate([0, 0, b.depth]));
  if (b.from === 'right') m = m.rotate([180, 0, 0]).translate([0, 0, length]);
  return { solid: m, full: b.from === 'left' ? [0, b.depth] : [length - b.depth, length], tip: b.from === 'left' ? b.depth + point : length - b.depth - point, r };
}

// A solid with its operations carried out, once and not at every use.
const made = (m) => (m.numTri(), m);

const plate = (z, thick) => Manifold.cube([2 * FAR, 2 * FAR, thick], true).translate([0, 0, z]);

// The gap of two solids, looked for further and further away, since looking
// far takes long.
function gap(a, b) {
  for (let reach = 1; reach < 4 * FAR; reach *= 1.7) {
    const d = a.minGap(b, reach);
    if (d < reach) return d > 0 ? d : -1;
  }
  return Infinity;
}
const least = (...list) => list.reduce((a, b) => Math.min(a, b), Infinity);
const shown = (v) => (v === null || v === Infinity ? '' : v < 0 ? '<0' : v.toFixed(4));

// The edges of a faceted stretch, each as a needle along it.
function needles(s) {
  const mesh = solid(s).getMesh();
  const points = [];
  for (let i = 0; i < mesh.numVert; i++) points.push(Array.from(mesh.vertProperties.slice(i * mesh.numProp, i * mesh.numProp + 3)));
  const low = points.filter((p) => Math.abs(p[2] - s.z1) < 2 * HAIR), high = points.filter((p) => Math.abs(p[2] - s.z2) < 2 * HAIR);
  return low.map((p) => {
    const angle = Math.atan2(p[1], p[0]);
    const q = high.reduce((best, x) => {
      const off = (y) => Math.abs(Math.atan2(Math.sin(Math.atan2(y[1], y[0]) - angle), Math.cos(Math.atan2(y[1], y[0]) - angle)));
      return best === null || off(x) < off(best) ? x : best;
    }, null);
    const e = 1e-4, corners = [];
    for (const c of [p, q]) for (const [dx, dy] of [[e, 0], [-e, e], [-e, -e]]) corners.push([c[0] + dx, c[1] + dy, c[2]]);
    return Manifold.hull(corners);
  });
}

// The gap of two of a part's holes, measured once for both.
const pairs = new Map();
function ofPair(cores, i, j) {
  const key = [Math.min(i, j), Math.max(i, j)].join();
  if (!pairs.has(key)) pairs.set(key, gap(cores[i], cores[j]));
  return pairs.get(key);
}

function measure(part) {
  pairs.clear();
  const list = stretches(part);
  const body = made(Manifold.union(list.map(solid)));
  const bores = part.bores.map((b) => bore(b, part.length));
  const marks = [];
  for (const s of list.filter((x) => x.facets)) marks.push(...needles(s), plate(s.z1, 1e-6), plate(s.z2, 1e-6));
  for (let i = 1; i < part.stations.length; i++) {
    if (part.stations[i][0] === part.stations[i - 1][0]) marks.push(plate(part.stations[i][0], 1e-6));
  }
  const drills = part.holes.map((h) => drill(h));
  const cores = drills.map((d) => made(d.intersect(body)));
  return part.holes.map((h, i) => {
    const r = h.dia / 2;
    // Side: a thin disc of the hole in the plane, against the air in the plane.
    const level = body.rotate([0, 0, -h.roll]); // the hole now along y
    const slab = Manifold.cube([2 * FAR, 2 * THIN, part.length], true).translate([0, 0, part.length / 2]);
    const air = slab.subtract(level);
    const disc = drill({ ...h, roll: 0 }, THIN);
    const side = gap(disc, air);
    // Ends: half spaces beyond the part.
    const end = least(gap(drills[i], plate(-FAR / 2, FAR)), gap(drills[i], plate(part.length + FAR / 2, FAR)));
    let next = Infinity;
    part.holes.map((o, j) => [Math.abs(o.at - h.at) - r - o.dia / 2, j]).sort((a, b) => a[0] - b[0]).forEach(([apart, j]) => {
      if (j !== i && apart < next) next = Math.min(next, ofPair(cores, i, j)); // no nearer than along the bar
    });
    let wall = Infinity, known = true;
    for (const b of bores) {
      const inside = h.at - r >= b.full[0] && h.at + r <= b.full[1];
      const beyond = b.full[0] === 0 ? h.at - r >= b.tip : h.at + r <= b.tip;
      if (inside || (beyond && h.offset === 0)) wall = Math.min(wall, gap(drills[i], b.solid));
      else known = false; // the definition is one of axes there, not of solids
    }
    const mouth = least(...marks.map((m) => gap(drills[i], m)));
    return [side, end, next, known ? wall : null, mouth].map(shown);
  });
}

const words = (list) => list.join(' ');
const rows = [['part', 'profile', 'arcs', 'facets', 'bores', 'n', 'at_mm', 'dia_mm', 'roll_deg', 'offset_mm', 'side_mm', 'end_mm', 'next_mm', 'bore_mm', 'mouth_mm']];
const PARTS = Number(process.env.PARTS ?? 220);
for (let p = 1; p <= PARTS; p++) {
  const part = makePart();
  const results = measure(part);
  part.holes.forEach((h, i) => rows.push([
    p, words(part.stations.map((s) => s.join(':'))), words(part.arcs.map((a) => [a.from, a.to, a.radius, a.bulge].join(':'))),
    words(part.facets.map((f) => [f.sides, f.from, f.to, f.across, f.roll].join(':'))),
    words(part.bores.map((b) => [b.from, b.dia, b.depth].join(':'))),
    i + 1, h.at, h.dia, h.roll, h.offset, ...results[i],
  ]));
}
const text = '# Walls of random parts as a solid modeller measures them (walls/walls.mjs). <0: no gap; empty: not measured.\n' + rows.map((r) => r.join(',')).join('\n') + '\n';

const table = new URL('../walls.csv', import.meta.url);
const measured = new URL('measured.sha256', import.meta.url);

// The files that a measurement depends on and its table, as sha256sum prints
// them.
const sums = () => ['walls.mjs', 'package-lock.json', '../walls.csv'].map((name) => {
  const text = readFileSync(new URL(name, import.meta.url));
  return `${createHash('sha256').update(text).digest('hex')}  ${name}\n`;
}).join('');

if (process.argv.includes('--check')) {
  const kept = readFileSync(table, 'utf8').split('\n'), again = text.split('\n');
  let bad = kept.length === again.length ? 0 : 1;
  for (let i = 0; i < Math.min(kept.length, again.length); i++) {
    const [a, b] = [kept[i].split(','), again[i].split(',')];
    const same = a.length === b.length && a.every((x, k) => x === b[k] || (k > 9 && Math.abs(Number(x) - Number(b[k])) <= 0.001));
    if (!same) {
      bad++;
      console.error(`line ${i + 1}\n  kept  ${kept[i]}\n  again ${again[i]}`);
    }
  }
  if (bad) {
    console.error(`${bad} lines differ from walls.csv`);
    process.exit(1);
  }
  if (readFileSync(measured, 'utf8') !== sums()) {
    console.error('the table is right, and measured.sha256 is not of these files: node walls.mjs');
    process.exit(1);
  }
  console.log(`${rows.length - 1} holes of ${PARTS} parts measured again: as kept`);
} else {
  writeFileSync(table, text);
  writeFileSync(measured, sums());
  console.log(`${rows.length - 1} holes of ${PARTS} parts`);
}
