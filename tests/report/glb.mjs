// Every .glb of every demo house, and those inside the reports, against the Khronos Group's
// validator (npm package gltf-validator): no error, no warning.
//
// node glb.mjs EXECUTABLE HOUSES NODE_MODULES
import { execFileSync } from 'node:child_process';
import { createRequire } from 'node:module';
import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';

const [program, houses, modules] = process.argv.slice(2).map((one) => resolve(one));
const validator = createRequire(join(modules, 'x.js'))('gltf-validator');

const folder = mkdtempSync(join(tmpdir(), 'glb-'));
let failed = 0;
let passed = 0;

async function check(what, bytes) {
  const { issues, info } = await validator.validateBytes(new Uint8Array(bytes), { maxIssues: 20 });
  if (issues.numErrors === 0 && issues.numWarnings === 0 && info.totalTriangleCount > 0) {
    passed += 1;
    return;
  }
  failed += 1;
  console.log(`${what}: ${issues.numErrors} errors, ${issues.numWarnings} warnings, ${info.totalTriangleCount} triangles`);
  issues.messages.filter((one) => one.severity < 2)
    .forEach((one) => console.log(`  ${one.code} ${one.pointer}: ${one.message}`));
}

function run(...words) {
  try {
    execFileSync(program, words, { stdio: ['ignore', 'ignore', 'pipe'] });
  } catch (error) {
    if (error.status !== 1) throw error;  // 1: the roof is at fault, the files are written
  }
}

try {
  for (const house of readdirSync(houses).filter((name) => name.endsWith('.roof.json'))) {
    const model = join(houses, house);
    const glb = join(folder, 'roof.glb');
    run('export', model, '-o', glb, '--show', 'all');
    await check(house, readFileSync(glb));
    const page = join(folder, 'roof.html');
    run('assess', model, '--html', page);
    const inside = readFileSync(page, 'utf8').match(/id="glb">([A-Za-z0-9+/=]*)<\/script>/);
    await check(`${house}, in its report`, Buffer.from(inside[1], 'base64'));
  }
} finally {
  rmSync(folder, { recursive: true });
}
console.log(`${passed} passed, ${failed} failed`);
process.exit(failed === 0 && passed > 0 ? 0 : 1);
