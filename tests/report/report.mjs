// The HTML report in a headless Chromium, at the size of a desk and of a phone: it asks for
// nothing, draws the roof, and what is tapped shows the figures of the assessment's JSON.
//
// node report.mjs EXECUTABLE HOUSES
import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { copyFileSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { Browser } from './browser.mjs';

const [program, houses] = process.argv.slice(2).map((one) => resolve(one));
const folder = mkdtempSync(join(tmpdir(), 'pages-'));
const desk = { width: 1400, height: 900 };
const phone = { width: 390, height: 844, touch: true, scale: 2 };
const inch_m = 0.0254;  // exactly: ISO 31, NIST SP 811

function assess(model, ...words) {
  const page = join(folder, 'page.html');
  const json = join(folder, 'page.json');
  try {
    execFileSync(program, ['assess', model, '--html', page, '--json', json, ...words], { stdio: ['ignore', 'ignore', 'pipe'] });
  } catch (error) {
    if (error.status !== 1) throw error;
  }
  return { page, assessment: JSON.parse(readFileSync(json, 'utf8')) };
}

const house = (name) => join(houses, `${name}.roof.json`);

// --- Figures as they are printed, back to SI. ---

/** "28' 6 1/2\"", "9 1/4\"", "8.700 m", "232 mm" in metres; their last digit as what is let pass. */
function length_of(text) {
  let m = text.match(/^(-?[\d.]+) (m|mm)$/);
  if (m) return { value: Number(m[1]) * (m[2] === 'm' ? 1 : 0.001), close: 0.00051 };
  m = text.match(/^(?:(\d+)' )?(?:(\d+))?(?: ?(\d+)\/(\d+))?"$/);
  assert.ok(m, `a length: ${text}`);
  const inches = Number(m[2] ?? 0) + (m[3] ? Number(m[3]) / Number(m[4]) : 0);
  return { value: (Number(m[1] ?? 0) * 12 + inches) * inch_m, close: inch_m / 16 + 1e-9 };
}

function area_of(text) {
  const m = text.match(/^([\d, ]*\d(?:\.\d+)?) (ft2|m2|in2|cm2)$/);
  assert.ok(m, `an area: ${text}`);
  const unit = { ft2: (12 * inch_m) ** 2, m2: 1, in2: inch_m ** 2, cm2: 1e-4 }[m[2]];
  const digits = m[1].split('.')[1]?.length ?? 0;
  return { value: Number(m[1].replace(/[, ]/g, '')) * unit, close: unit * 10 ** -digits * 0.5001 };
}

// "8/12 (33.7°)", or "33.7 deg" where lengths are metric; both as the rise over 12.
function pitch_of(text) {
  const m = text.match(/^(\d+(?:\.\d+)?)(\/12(?= \(|$)| deg$)/);
  assert.ok(m, `a pitch: ${text}`);
  if (m[2] === '/12') return { value: Number(m[1]), close: 0.0051 };
  const radians = (Number(m[1]) * Math.PI) / 180;
  return { value: 12 * Math.tan(radians), close: (12 * 0.0501 * Math.PI) / 180 / Math.cos(radians) ** 2 };
}

function same({ value, close }, expected, what) {
  assert.ok(Math.abs(value - expected) <= close, `${what}: the page says ${value}, the JSON ${expected}`);
}

function check_figures(key, rows, assessment) {
  const [kind, id] = [key.slice(0, key.indexOf(':')), key.slice(key.indexOf(':') + 1)];
  const row = Object.fromEntries(rows);
  if (kind === 'plane') {
    const plane = assessment.planes.find((one) => one.id === id);
    same(area_of(row.area), plane.area_m2, `${key} area`);
    same(area_of(row['area in plan']), plane.plan_area_m2, `${key} area in plan`);
    for (const name of ['eave', 'rake', 'ridge', 'hip', 'valley', 'wall']) {
      assert.equal(row[name] !== undefined, plane[`${name}_m`] > 1e-9, `${key} ${name}`);
      if (row[name]) same(length_of(row[name]), plane[`${name}_m`], `${key} ${name}`);
    }
    if (plane.pitch_in_12 > 0) {
      same(pitch_of(row.pitch), plane.pitch_in_12, `${key} pitch`);
    }
  } else if (kind === 'line') {
    const line = assessment.lines.find((one) => one.id === id);
    same(length_of(row['true length']), line.length_m, `${key} length`);
    same(length_of(row['length in plan']), line.plan_length_m, `${key} in plan`);
  } else if (kind === 'slot') {
    const slot = assessment.slots.find((one) => one.id === id);
    assert.equal(row.plane, slot.plane);
    same(length_of(row.slot.replace(' long', '')), slot.end_m - slot.start_m, `${key} slot`);
    const [place, corner] = row['along the eave'].split(' from the left, ');
    assert.equal(corner, slot.marks.left_hook);
    const [from, to] = place.split(' to ');
    same(length_of(from), slot.marks.start_from_left_m, `${key} start`);
    same(length_of(to), slot.marks.end_from_left_m, `${key} end`);
    same(length_of(row['lower line'].replace(' up the slope', '')), slot.lower_line_m, `${key} lower line`);
    same(area_of(row['free area']), slot.free_area_m2, `${key} free area`);
    assert.equal(row['live bays'], `${slot.bays.filter((one) => one.live).length} of ${slot.bays.length}`);
  } else if (kind === 'exhaust') {
    const vent = assessment.exhausts.find((one) => one.id === id);
    same(area_of(row['free area']), vent.free_area_m2, `${key} free area`);
    if (row.length) same(length_of(row.length), vent.length_m, `${key} length`);
  } else {
    const finding = assessment.conflicts[Number(id) - 1];
    assert.equal(row.found, finding.message);
    assert.equal(row.remedy, finding.remedy);
    assert.equal(row.measured ?? '', finding.measured);
    assert.equal(row.needed ?? '', finding.needed);
  }
}

// --- What a page shows. ---

const chosen = (page) => page.run(`({key: document.getElementById('chosen').dataset.key ?? null,
  rows: [...document.querySelectorAll('#chosen dl div')].map(
    (one) => [one.querySelector('dt').textContent, one.querySelector('dd').textContent])})`);

/** Of the roof's canvas: share of it that is drawn on, colours, a sum that tells pictures apart. */
const seen = (page) => page.run(`(() => {
  const from = document.getElementById('roof');
  const to = document.createElement('canvas');
  to.width = from.width;
  to.height = from.height;
  const pen = to.getContext('2d', { willReadFrequently: true });
  pen.drawImage(from, 0, 0);
  const all = pen.getImageData(0, 0, to.width, to.height).data;
  const colours = new Set();
  let drawn = 0, sum = 0, blue = 0, orange = 0;
  for (let i = 0; i < all.length; i += 4) {
    if (all[i + 3] < 200) continue;
    ++drawn;
    colours.add(all[i] << 16 | all[i + 1] << 8 | all[i + 2]);
    sum = (sum * 31 + i + all[i] + all[i + 1] * 3 + all[i + 2] * 7) % 4294967291;
    if (all[i + 2] > all[i] + 60) ++blue;
    if (all[i] > all[i + 2] + 90 && all[i + 1] > all[i + 2] + 20) ++orange;
  }
  return { share: drawn / (all.length / 4), colours: colours.size, sum, blue, orange };
})()`);

const rest = (page) => page.until('window.roof_view.is_at_rest()');

async function opened(browser, file, size) {
  const page = await browser.open(file, size);
  await page.until('window.roof_view && window.roof_view.frames() > 0');
  await rest(page);
  return page;
}

/** Nothing was asked of anybody, nothing complained, nothing is wider than the screen. */
async function is_quiet(page, file) {
  assert.deepEqual(page.errors, []);
  assert.deepEqual(page.requests.filter((one) => one !== `file://${file}`), []);
  const { wide, screen } = await page.run('({wide: document.documentElement.scrollWidth, screen: innerWidth})');
  assert.ok(wide <= screen, `the page is ${wide} wide on a screen of ${screen}`);
}

/** The page has taken up what a tap put on it: a taller panel moves and resizes the drawing. */
async function settled(page) {
  await page.run('new Promise((done) => { requestAnimationFrame(() => requestAnimationFrame(() => done(true))); })');
  await rest(page);
}

async function taps(page, size, keys, assessment) {
  let tapped = 0;
  for (const key of keys) {
    await settled(page);
    const place = await page.run(`window.roof_view.place(${JSON.stringify(key)}, ${size.touch ? 16 : 9})`);
    if (!place) continue;
    if (size.touch) await page.touch([place]);
    else await page.click(place);
    await settled(page);
    const { key: shown, rows } = await chosen(page);
    assert.equal(shown, key);
    check_figures(key, rows, assessment);
    tapped += 1;
  }
  return tapped;
}

const number = new RegExp(String.raw`(?:\d+' )?\d+(?: \d+/\d+)?"|\d+/\d+"`, 'g');
/** Every length that the page prints is one of the JSON's, printed the same way. */
async function lengths_are_the_jsons(page, assessment) {
  const known = [];
  const walk = (one) => {
    if (typeof one === 'number') known.push(Math.abs(one));
    else if (typeof one === 'string') (one.match(number) ?? []).forEach((text) => known.push(length_of(text).value));
    else if (one && typeof one === 'object') Object.values(one).forEach(walk);
  };
  walk(assessment);
  known.push(...assessment.slots.map((one) => one.end_m - one.start_m));
  known.sort((a, b) => a - b);
  const text = await page.run(`[...document.querySelectorAll('dd, td, li')].map((one) => one.textContent).join('\\n')`);
  const printed = text.match(number) ?? [];
  assert.ok(printed.length > 40, `${printed.length} lengths on the page`);
  for (const one of printed) {
    const { value, close } = length_of(one);
    let low = 0;
    let high = known.length;
    while (low < high) {
      const middle = (low + high) >> 1;
      if (known[middle] < value - close) low = middle + 1;
      else high = middle;
    }
    assert.ok(known[low] <= value + close, `${one} is no length of the JSON`);
  }
}

// --- The tests. ---

const tests = {
  async 'without the library the program says so and writes nothing'() {
    const at = join(folder, 'elsewhere');
    ['bin', 'share/ridgeward/report'].forEach((one) => mkdirSync(join(at, one), { recursive: true }));
    copyFileSync(program, join(at, 'bin/ridgeward'));
    const page = join(at, 'page.html');
    assert.throws(
      () => execFileSync(join(at, 'bin/ridgeward'), ['assess', house('plain-gable'), '--html', page],
        { stdio: ['ignore', 'ignore', 'pipe'] }),
      (error) => error.status === 2 && /three\.js/.test(error.stderr) && /libjs-three/.test(error.stderr));
    assert.throws(() => readFileSync(page), { code: 'ENOENT' });
  },

  async 'a desk: figures, drawing, turning, layers, paper'(browser) {
    const { page: file, assessment } = assess(house('sorrel-lane'));
    const page = await opened(browser, file, desk);
    const first = await seen(page);
    assert.ok(first.share > 0.15 && first.colours > 60, JSON.stringify(first));
    assert.ok(first.blue > 500 && first.orange > 200, JSON.stringify(first));
    const things = await page.run(`JSON.parse(document.getElementById('things').textContent).things`);
    assert.equal(things.filter((one) => one.kind === 'plane').length, assessment.planes.length);
    assert.equal(things.filter((one) => one.kind === 'line').length, assessment.lines.length);
    things.forEach((one) => check_figures(one.key, one.rows, assessment));
    const tapped = await taps(page, desk, ['plane:main/0', 'plane:main/3', 'slot:south/1', 'line:main/0|eave',
      'exhaust:main-ridge', 'line:main/0|main/1'], assessment);
    assert.ok(tapped >= 5, `${tapped} things could be tapped`);
    await lengths_are_the_jsons(page, assessment);

    const meanings = await page.run(`document.getElementById('key').textContent`);
    ['eave', 'valley', 'exhaust vent', 'dead bay: leads nowhere'].forEach(
      (one) => assert.ok(meanings.includes(one), `${one} is explained: ${meanings}`));

    // A plane that looks away is turned to, when its row is chosen.
    await page.run(`document.querySelector('[data-thing="plane:main/4"]').click()`);
    await rest(page);
    assert.equal((await chosen(page)).key, 'plane:main/4');
    assert.ok(await page.run(`window.roof_view.place('plane:main/4')`), 'the plane came into sight');

    const sum = async () => (await seen(page)).sum;
    const middle = { x: 350, y: 420 };
    const before = await sum();
    await page.drag(middle, { x: 450, y: 380 });
    await rest(page);
    const turned = await sum();
    assert.notEqual(turned, before);
    await page.wheel(middle, -400);
    await rest(page);
    const near = await sum();
    assert.notEqual(near, turned);
    for (const layer of ['deck', 'bays', 'vents', 'members', 'attic', 'glass']) {
      const was = await sum();
      const box = `document.querySelector('[data-layer="${layer}"]')`;
      await page.run(`${box}.click()`);
      await rest(page);
      assert.notEqual(await sum(), was, `layer ${layer} changes the picture`);
      await page.run(`${box}.click()`);
      await rest(page);
      assert.equal(await sum(), was, `layer ${layer} comes back`);
    }
    await page.run(`document.getElementById('roof').dispatchEvent(
      new KeyboardEvent('keydown', { key: 'ArrowLeft', bubbles: true, cancelable: true }))`);
    await rest(page);
    assert.notEqual(await sum(), near, 'an arrow key turns the roof');
    await is_quiet(page, file);

    const pdf = join(folder, 'page.pdf');
    writeFileSync(pdf, await page.pdf());
    const words = execFileSync('pdftotext', ['-layout', pdf, '-'], { encoding: 'utf8' });
    ['Spaces: required', 'Runs and their pieces', 'Cautions', 'drip edge'].forEach(
      (one) => assert.ok(words.includes(one), `on paper: ${one}`));
    await page.close();
  },

  async 'a phone: fingers, findings, nothing wider than the screen'(browser) {
    const { page: file, assessment } = assess(house('plover-hall'));
    const page = await opened(browser, file, phone);
    const first = await seen(page);
    assert.ok(first.share > 0.08 && first.colours > 60, JSON.stringify(first));
    await page.run(`document.getElementById('view').scrollIntoView()`);
    await rest(page);
    const findings = assessment.conflicts.map((one, i) => `finding:${i + 1}`);
    assert.ok(findings.length >= 3);
    assert.equal(await taps(page, phone, findings, assessment), findings.length);
    assert.ok(await taps(page, phone, ['plane:main/0', 'plane:main/1', 'slot:east/1'], assessment) >= 1);
    for (const key of findings) {
      await page.run(`document.querySelector('[data-thing="${key}"]').click()`);
      check_figures(key, (await chosen(page)).rows, assessment);
    }
    const sum = async () => (await seen(page)).sum;
    await page.run(`document.getElementById('view').scrollIntoView()`);
    await rest(page);
    const before = await sum();
    await page.touch([{ x: 150, y: 200 }], [{ x: 230, y: 240 }]);
    await rest(page);
    const turned = await sum();
    assert.notEqual(turned, before, 'one finger turns the roof');
    await page.touch([{ x: 150, y: 200 }, { x: 230, y: 300 }], [{ x: 110, y: 150 }, { x: 270, y: 350 }]);
    await rest(page);
    assert.notEqual(await sum(), turned, 'two fingers come nearer');
    await is_quiet(page, file);
    await page.close();
  },

  async 'metric and dark; the largest house'(browser) {
    const { page: file, assessment } = assess(house('quarry-rise'), '--units', 'metric');
    const page = await opened(browser, file, { ...desk, dark: true });
    const things = await page.run(`JSON.parse(document.getElementById('things').textContent).things`);
    things.forEach((one) => check_figures(one.key, one.rows, assessment));
    assert.ok((await seen(page)).colours > 60);
    const dark = await page.run(`getComputedStyle(document.body).backgroundColor.match(/\\d+/g).map(Number)`);
    assert.ok(Math.max(...dark.slice(0, 3)) < 60, `dark: ${dark}`);
    await is_quiet(page, file);
    await page.close();
  },

  async 'names that would be markup or script stay names'(browser) {
    // Ids may hold anything but / | # : and blanks at their ends.
    const text = readFileSync(house('mill-row'), 'utf8').replaceAll(/\bmain\b/g, 'ma<b onclick=hacked=5>in');
    const model = JSON.parse(text);
    const evil = `</script><script>window.hacked=1</script><img src=x onerror="window.hacked=2">'"&amp;\u2028`;
    model.name = evil;
    model.ceilings?.forEach((one) => { one.id = `<b onclick=hacked=6>${one.id}<!--`; });
    model.vents.intake.forEach((one) => { one.id = `${one.id}"><script>window.hacked=3`; });
    model.vents.exhaust.forEach((one) => { one.id = `${one.id}' onclick='window.hacked=4`; });
    const path = join(folder, 'evil.roof.json');
    writeFileSync(path, JSON.stringify(model));
    const { page: file, assessment } = assess(path);
    assert.ok(assessment.slots[0].id.includes('<script>'), 'the names came through');
    const page = await opened(browser, file, desk);
    assert.equal(await page.run('window.hacked'), undefined);
    assert.equal(await page.run('document.title.length'), evil.replace('\u2028', ' ').length);
    assert.equal(await page.run(`document.querySelector('h1').textContent`), evil);
    assert.equal(await page.run('document.scripts.length'), 4);
    assert.equal(await page.run(`document.querySelectorAll('main script, [onclick], [onerror], main b:not([aria-hidden])').length`), 0);
    const slot = `slot:${assessment.slots[0].id}`;
    await page.run(`[...document.querySelectorAll('[data-thing]')].find((one) => one.dataset.thing === ${JSON.stringify(slot)}).click()`);
    check_figures(slot, (await chosen(page)).rows, assessment);
    assert.equal(await page.run('window.hacked'), undefined);
    await is_quiet(page, file);
    await page.close();
  },
};

const browser = new Browser();
let failed = 0;
try {
  for (const [name, test] of Object.entries(tests)) {
    try {
      await test(browser);
      console.log(`ok: ${name}`);
    } catch (error) {
      failed += 1;
      console.log(`FAILED: ${name}\n${error.stack}`);
    }
  }
} finally {
  await browser.close();
  rmSync(folder, { recursive: true, force: true });
}
console.log(`${Object.keys(tests).length - failed} passed, ${failed} failed`);
process.exit(failed === 0 ? 0 : 1);
