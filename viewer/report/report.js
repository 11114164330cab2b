// The roof of the report in 3D: turn it, come nearer, tap for figures, switch layers.
//
// It reads the figures as the program printed them (script element "things") and the bodies as
// glTF (script element "glb"); it works nothing out but where things are on the screen.
(function () {
  'use strict';

  const $ = (id) => document.getElementById(id);
  const stage = $('stage');
  const canvas = $('roof');
  const paper = $('labels');
  const wait = $('wait');

  // Colours, patterns and weights as in the window of the program: safe for the colour-blind, and
  // each kind of line and bay has a pattern or weight of its own.
  const FACES = {
    deck: { colour: [0.735, 0.752, 0.772] },
    members: { colour: [0.85, 0.715, 0.52] },
    slots: { colour: [0.04, 0.07, 0.12] },
    attic: { colour: [0.83, 0.8, 0.88], alpha: 0.6 },
    walls: { colour: [0.925, 0.905, 0.868] },
    trim: { colour: [0.968, 0.964, 0.952] },
    bay_fed: { colour: [0.3, 0.64, 0.9], alpha: 0.36 },
    bay_idle: { colour: [0.98, 0.98, 0.96], alpha: 0.3 },
    bay_dead: { colour: [0.26, 0.28, 0.31], alpha: 0.6, hatch: 'diagonal' },
    bay_wasted: { colour: [0.6, 0.08, 0.1], alpha: 0.8, hatch: 'cross' },
    intake_vent: { colour: [0.17, 0.5, 0.78], alpha: 0.8 },
    exhaust_vent: { colour: [0.93, 0.48, 0.13] },
  };
  const LINES = {
    eave: { colour: [0.02, 0.29, 0.57], width: 3.6 },
    rake: { colour: [0.5, 0.33, 0.08], width: 2.4 },
    ridge: { colour: [0.7, 0.2, 0.03], width: 3.6 },
    hip: { colour: [0.52, 0.18, 0.48], width: 2.8, dash: [14, 4] },
    valley: { colour: [0.0, 0.42, 0.36], width: 3.0, dash: [6, 4] },
    pitch_break: { colour: [0.25, 0.3, 0.36], width: 2.2, dash: [2.5, 4] },
    shed_top: { colour: [0.7, 0.2, 0.03], width: 2.4, dash: [10, 3] },
    headwall: { colour: [0.15, 0.17, 0.2], width: 2.6 },
    sidewall: { colour: [0.15, 0.17, 0.2], width: 2.6 },
    step_wall: { colour: [0.15, 0.17, 0.2], width: 2.6 },
  };
  const SLOT = [0.04, 0.07, 0.12];
  const CHOSEN = [0.98, 0.76, 0.11];
  const SEVERITY = { error: '#b01c2e', warning: '#b06e00', note: '#5f6873' };

  // Words of the layers, what they hold, whether they are on at first.
  const LAYERS = [
    ['deck', 'Roof', true], ['lines', 'Lines', true], ['lengths', 'Lengths', true],
    ['names', 'Planes', false], ['bays', 'Bays', true], ['vents', 'Vents', true],
    ['members', 'Rafters', false], ['attic', 'Air spaces', false], ['walls', 'Walls', true],
    ['findings', 'Findings', true], ['glass', 'See through', false],
  ];
  const GROUP_LAYER = {
    deck: 'deck', members: 'members', slots: 'vents', attic: 'attic', walls: 'walls', trim: 'walls',
    bay_fed: 'bays', bay_idle: 'bays', bay_dead: 'bays', bay_wasted: 'bays', intake_vent: 'vents',
    exhaust_vent: 'vents',
  };

  const data = JSON.parse($('things').textContent);
  const things = new Map(data.things.map((one) => [one.key, one]));
  const shown = {};
  LAYERS.forEach(([name, , on]) => { shown[name] = on; });

  // glTF's axes: y up, north to -z.
  const at = (p) => new THREE.Vector3(p[0], p[2], -p[1]);

  let chosen = null;

  // --- Figures: these need no 3D, so they come first. ---

  function tell(key) {
    const one = things.get(key);
    const panel = $('chosen');
    panel.dataset.key = key;
    panel.querySelector('h3').textContent = one.title;
    const list = panel.querySelector('dl');
    list.className = one.kind === 'finding' ? 'long' : '';
    list.textContent = '';
    one.rows.forEach(([name, value]) => {
      const entry = document.createElement('div');
      const term = document.createElement('dt');
      const text = document.createElement('dd');
      term.textContent = name;
      text.textContent = value;
      entry.append(term, text);
      list.append(entry);
    });
    document.querySelectorAll('tr.chosen').forEach((row) => row.classList.remove('chosen'));
    document.querySelectorAll('[data-thing]').forEach((button) => {
      if (button.dataset.thing === key) button.closest('tr').classList.add('chosen');
    });
  }

  let choose = (key) => { chosen = key; tell(key); };
  document.addEventListener('click', (event) => {
    const button = event.target.closest('[data-thing]');
    if (button && things.has(button.dataset.thing)) {
      choose(button.dataset.thing, true);
      $('view').scrollIntoView({ block: 'nearest' });
    }
  });

  // Paper can't be opened by a tap.
  window.addEventListener('beforeprint', () => {
    document.querySelectorAll('main details').forEach((one) => { one.open = true; });
  });

  // --- The scene. ---

  const renderer = (function () {
    try {
      return new THREE.WebGLRenderer({
        canvas, antialias: true, alpha: true, preserveDrawingBuffer: true,
      });
    } catch (error) {
      return null;
    }
  })();
  if (!renderer) {
    wait.textContent = 'This browser does not offer WebGL, so the roof is not drawn. Everything '
      + 'else on this page is complete; the plan below shows the roof from above.';
    return;
  }
  wait.hidden = true;

  const scene = new THREE.Scene();
  const camera = new THREE.PerspectiveCamera(32, 1, 0.1, 1000);
  const controls = new THREE.OrbitControls(camera, canvas);
  const layers = {};
  LAYERS.forEach(([name]) => {
    layers[name] = new THREE.Group();
    scene.add(layers[name]);
  });
  scene.add(new THREE.HemisphereLight(0xffffff, 0xaab2ba, 0.78));
  const sun = new THREE.DirectionalLight(0xffffff, 0.34);
  scene.add(sun);
  const colour = (c) => new THREE.Color(c[0], c[1], c[2]);

  // Lines across the picture, so that a state is told by more than its colour.
  function hatch(material, kind) {
    const test = kind === 'cross'
      ? 'mod(gl_FragCoord.x + gl_FragCoord.y, 9.0) > 2.6 && mod(gl_FragCoord.x - gl_FragCoord.y, 9.0) > 2.6'
      : 'mod(gl_FragCoord.x + gl_FragCoord.y, 9.0) > 2.6';
    material.onBeforeCompile = (shader) => {
      shader.fragmentShader = shader.fragmentShader.replace(
        'void main() {', 'void main() {\n  if (' + test + ') { discard; }');
    };
  }

  function material_of(group) {
    const look = FACES[group] || { colour: [0.5, 0.5, 0.5] };
    const material = new THREE.MeshLambertMaterial({
      color: colour(look.colour), side: THREE.DoubleSide,
      transparent: look.alpha !== undefined, opacity: look.alpha === undefined ? 1 : look.alpha,
      depthWrite: look.alpha === undefined,
      polygonOffset: group === 'deck', polygonOffsetFactor: 1, polygonOffsetUnits: 2,
    });
    if (look.hatch) hatch(material, look.hatch);
    return material;
  }

  const decks = new Map();  // plane's key -> its meshes
  const solid = [];         // what hides what lies behind it
  const corners = [];       // of the roof, for what has to be seen
  let middle = new THREE.Vector3();
  let radius = 10;

  function take(gltf) {
    const groups = {};
    gltf.scene.updateMatrixWorld(true);
    const meshes = [];
    gltf.scene.traverse((node) => { if (node.isMesh) meshes.push(node); });
    meshes.forEach((mesh) => {
      const name = mesh.userData.name || '';
      const group = name.split('/')[0];
      if (!GROUP_LAYER[group]) return;
      groups[group] = groups[group] || material_of(group);
      mesh.material = groups[group];
      if (group === 'deck') {
        const key = 'plane:' + name.slice('deck/'.length).split('/under/')[0];
        mesh.material = groups[group].clone();
        mesh.userData.key = things.has(key) ? key : null;
        if (mesh.userData.key) decks.set(key, (decks.get(key) || []).concat(mesh));
      }
      if (group.startsWith('bay_') || group === 'intake_vent') mesh.renderOrder = 1;
      layers[GROUP_LAYER[group]].add(mesh);
      if (['deck', 'walls', 'trim'].includes(group)) solid.push(mesh);
      if (['walls', 'members', 'trim'].includes(group)) {
        mesh.add(new THREE.LineSegments(
          new THREE.EdgesGeometry(mesh.geometry, 20),
          new THREE.LineBasicMaterial({ color: colour([0.56, 0.54, 0.5]) })));
      }
    });
    const box = new THREE.Box3();
    solid.forEach((mesh) => box.expandByObject(mesh));
    if (!box.isEmpty()) {
      box.getCenter(middle);
      radius = Math.max(0.5, box.getSize(new THREE.Vector3()).length() / 2);
    }
    solid.forEach((mesh) => {
      const points = mesh.geometry.attributes.position;
      for (let i = 0; i < points.count; ++i) corners.push(new THREE.Vector3().fromBufferAttribute(points, i));
    });
    ground(box);
  }

  function ground(box) {
    if (box.isEmpty()) return;
    const disc = new THREE.Mesh(
      new THREE.CircleBufferGeometry(radius * 1.35, 64),
      new THREE.MeshBasicMaterial({ color: 0x808a94, transparent: true, opacity: 0.16, depthWrite: false }));
    disc.rotation.x = -Math.PI / 2;
    disc.position.set(middle.x, box.min.y - 0.02, middle.z);
    layers.walls.add(disc);
  }

  // A square bar along a line, in pieces where it is dashed. Widths are the window's pixels.
  function bars(pieces, half, tint, order) {
    const points = [];
    pieces.forEach(([from, to]) => {
      const way = to.clone().sub(from);
      if (way.lengthSq() < 1e-8) return;
      const side = new THREE.Vector3(0, 1, 0).cross(way);
      if (side.lengthSq() < 1e-8) side.set(1, 0, 0);
      side.normalize().multiplyScalar(half);
      const up = way.clone().cross(side).normalize().multiplyScalar(half);
      const ring = (p) => [[1, 1], [-1, 1], [-1, -1], [1, -1]].map(
        ([a, b]) => p.clone().addScaledVector(side, a).addScaledVector(up, b));
      const low = ring(from);
      const high = ring(to);
      for (let i = 0; i < 4; ++i) {
        const k = (i + 1) % 4;
        [low[i], low[k], high[k], low[i], high[k], high[i]].forEach((p) => points.push(p.x, p.y, p.z));
      }
    });
    const geometry = new THREE.BufferGeometry();
    geometry.setAttribute('position', new THREE.Float32BufferAttribute(points, 3));
    const mesh = new THREE.Mesh(geometry, new THREE.MeshBasicMaterial({ color: colour(tint), side: THREE.DoubleSide }));
    mesh.renderOrder = order || 0;
    return mesh;
  }

  function dashed(from, to, dash, scale) {
    if (!dash) return [[from, to]];
    const length = from.distanceTo(to);
    const pieces = [];
    for (let s = 0; s < length; s += (dash[0] + dash[1]) * scale) {
      const end = Math.min(length, s + dash[0] * scale);
      pieces.push([from.clone().lerp(to, s / length), from.clone().lerp(to, end / length)]);
    }
    return pieces;
  }

  function lines() {
    const pixel = radius * 0.0021;  // a pixel of the window when the whole house is seen
    const pieces = {};
    things.forEach((one) => {
      if (one.kind === 'line' && LINES[one.word]) {
        const look = LINES[one.word];
        pieces[one.word] = (pieces[one.word] || []).concat(
          dashed(at(one.from), at(one.to), look.dash, pixel * 2.4));
      } else if (one.kind === 'slot') {
        layers.vents.add(bars([[at(one.from), at(one.to)]], pixel * 1.4, SLOT));
      }
    });
    Object.keys(pieces).forEach((word) => {
      layers.lines.add(bars(pieces[word], pixel * LINES[word].width / 2, LINES[word].colour));
    });
  }

  // --- Where things are on the screen. ---

  const size = () => ({ x: canvas.clientWidth, y: canvas.clientHeight });
  function screen(p) {
    const q = p.clone().project(camera);
    const s = size();
    return { x: (q.x + 1) / 2 * s.x, y: (1 - q.y) / 2 * s.y, z: q.z };
  }
  const ray = new THREE.Raycaster();
  function hits(x, y) {
    const s = size();
    ray.setFromCamera({ x: x / s.x * 2 - 1, y: 1 - y / s.y * 2 }, camera);
    return ray.intersectObjects(solid.filter((mesh) => mesh.parent && mesh.parent.visible));
  }
  function in_sight(p, x, y) {
    if (shown.glass) return true;
    const hit = hits(x, y)[0];
    return !hit || hit.distance > p.distanceTo(camera.position) - radius * 0.03 - 0.1;
  }
  function faces_us(one) {
    const p = at(one.at);
    const eye = camera.position.clone().sub(p);
    return !one.normals || one.normals.length === 0 || one.normals.some((n) => at(n).dot(eye) > 0);
  }

  /** What is nearest to a place of the screen within a finger's breadth, else the plane there. */
  function pick(x, y, breadth) {
    const close = { finding: breadth + 4, exhaust: breadth, slot: breadth, line: breadth * 0.8 };
    let best = null;
    let least = Infinity;
    things.forEach((one) => {
      const layer = { finding: 'findings', exhaust: 'vents', slot: 'vents', line: 'lines' }[one.kind];
      if (!layer || !shown[layer]) return;
      const a = at(one.from || one.at);
      const b = at(one.to || one.at);
      const p = one.kind === 'finding' && marks.get(one.key) || screen(a);
      const q = one.kind === 'finding' ? p : screen(b);
      if (p.z > 1 || q.z > 1) return;
      const d = { x: q.x - p.x, y: q.y - p.y };
      const square = d.x * d.x + d.y * d.y;
      const t = square < 1e-9 ? 0 : Math.max(0, Math.min(1, ((x - p.x) * d.x + (y - p.y) * d.y) / square));
      const away = Math.hypot(p.x + t * d.x - x, p.y + t * d.y - y);
      const worth = away - { finding: 100, exhaust: 2, slot: 2, line: 0 }[one.kind];
      if (away > close[one.kind] || worth >= least) return;
      if (one.kind !== 'finding' && !in_sight(a.lerp(b, t), p.x + t * d.x, p.y + t * d.y)) return;
      least = worth;
      best = one.key;
    });
    if (best) return best;
    const hit = hits(x, y)[0];
    return hit && hit.object.userData.key ? hit.object.userData.key : null;
  }

  // --- Labels and marks, on a paper of their own over the roof. ---

  let in_view = new Set();
  const marks = new Map();  // where findings' marks stand, moved aside where they would meet
  function find_in_view() {
    in_view = new Set();
    things.forEach((one) => {
      const p = at(one.at);
      const s = screen(p);
      if (s.z < 1 && faces_us(one) && (one.kind === 'finding' || in_sight(p, s.x, s.y))) {
        in_view.add(one.key);
      }
    });
  }

  const RANK = { eave: 0, ridge: 1, valley: 2, hip: 3 };
  function label_order() {
    const all = [];
    things.forEach((one) => {
      if (one.kind === 'finding' && shown.findings) all.push([0, 0, one]);
      if (one.kind === 'line' && shown.lengths && one.label) {
        all.push([1 + (RANK[one.word] === undefined ? 4 : RANK[one.word]),
          -at(one.from).distanceTo(at(one.to)), one]);
      }
      if (one.kind === 'plane' && shown.names) all.push([9, 0, one]);
    });
    return all.sort((a, b) => a[0] - b[0] || a[1] - b[1]).map((entry) => entry[2]);
  }

  function mark(pen, one, x, y, foot) {
    const r = 11;
    pen.strokeStyle = SEVERITY[one.severity] || SEVERITY.note;
    pen.lineWidth = 2;
    pen.beginPath();
    pen.moveTo(foot.x, foot.y);
    pen.lineTo(x, y);
    pen.stroke();
    pen.beginPath();
    if (one.severity === 'error') {
      for (let i = 0; i < 8; ++i) {
        const turn = Math.PI / 8 + i * Math.PI / 4;
        pen.lineTo(x + r * 1.12 * Math.cos(turn), y + r * 1.12 * Math.sin(turn));
      }
    } else if (one.severity === 'warning') {
      pen.moveTo(x, y - r * 1.35);
      pen.lineTo(x + r * 1.35, y + r);
      pen.lineTo(x - r * 1.35, y + r);
    } else {
      pen.arc(x, y, r, 0, 2 * Math.PI);
    }
    pen.closePath();
    pen.fillStyle = SEVERITY[one.severity] || SEVERITY.note;
    pen.fill();
    pen.lineWidth = one.key === chosen ? 4 : 2;
    pen.strokeStyle = one.key === chosen ? '#fac21c' : '#ffffff';
    pen.stroke();
    pen.fillStyle = '#ffffff';
    pen.font = 'bold 12px "DejaVu Sans", sans-serif';
    pen.textAlign = 'center';
    pen.fillText(one.label, x, y + (one.severity === 'warning' ? 6.5 : 4.5));
  }

  function label(pen, one, box) {
    const look = LINES[one.word];
    pen.fillStyle = one.key === chosen ? '#fac21c' : 'rgba(255,255,255,0.9)';
    pen.strokeStyle = look ? '#' + colour(look.colour).getHexString() : '#8a939c';
    pen.lineWidth = 1.2;
    pen.beginPath();
    pen.rect(box.x, box.y, box.w, box.h);
    pen.fill();
    pen.stroke();
    pen.fillStyle = '#1e242c';
    pen.textAlign = 'center';
    pen.fillText(one.label, box.x + box.w / 2, box.y + box.h - 5);
  }

  /** Too short on the screen for its label to say which line it speaks of. */
  function is_short(one) {
    const p = screen(at(one.from));
    const q = screen(at(one.to));
    return Math.hypot(p.x - q.x, p.y - q.y) < 22;
  }

  const meet = (a, b) => a.x < b.x + b.w + 3 && b.x < a.x + a.w + 3
    && a.y < b.y + b.h + 3 && b.y < a.y + a.h + 3;
  /** The place itself, or one beside it that no other mark holds. */
  function free_spot(p, taken) {
    const around = [[0, 0], [0, -32], [32, 0], [-32, 0], [0, 32], [32, -32], [-32, -32], [32, 32], [-32, 32]];
    const spots = around.map(([dx, dy]) => ({ x: p.x + dx, y: p.y + dy }));
    return spots.find((spot) => !taken.some(
      (other) => meet({ x: spot.x - 14, y: spot.y - 14, w: 28, h: 28 }, other))) || spots[0];
  }

  function draw_labels() {
    marks.clear();
    const scale = window.devicePixelRatio || 1;
    const s = size();
    paper.width = Math.round(s.x * scale);
    paper.height = Math.round(s.y * scale);
    const pen = paper.getContext('2d');
    pen.setTransform(scale, 0, 0, scale, 0, 0);
    const taken = [];
    label_order().forEach((one) => {
      if (!in_view.has(one.key) || !faces_us(one)) return;
      const p = screen(at(one.at));
      if (p.z > 1 || (one.from && one.key !== chosen && is_short(one))) return;
      if (one.kind === 'finding') {
        const spot = free_spot(p, taken);
        mark(pen, one, spot.x, spot.y, p);
        marks.set(one.key, { x: spot.x, y: spot.y, z: p.z });
        taken.push({ x: spot.x - 14, y: spot.y - 14, w: 28, h: 28 });
        return;
      }
      pen.font = '12px "DejaVu Sans", sans-serif';
      const w = pen.measureText(one.label).width + 10;
      const h = 18;
      const box = { x: p.x - w / 2, y: p.y - h / 2, w, h };
      const clash = taken.some((other) => meet(box, other));
      const off = box.x < 2 || box.y < 2 || box.x + w > s.x - 2 || box.y + h > s.y - 2;
      if (clash || off) return;
      label(pen, one, box);
      taken.push(box);
    });
    north(pen, s);
  }

  function north(pen, s) {
    const turn = data.north_deg * Math.PI / 180;
    const tip = screen(middle.clone().add(new THREE.Vector3(Math.sin(turn), 0, -Math.cos(turn)).multiplyScalar(radius * 0.05)));
    const foot = screen(middle);
    const d = Math.hypot(tip.x - foot.x, tip.y - foot.y) || 1;
    const reach = Math.min(16, 16 * d / (radius * 0.05) / (s.y / radius / 2.2));
    const x = 38;
    const y = s.y - 40;
    const e = { x: (tip.x - foot.x) / d, y: (tip.y - foot.y) / d };
    pen.strokeStyle = '#5f6873';
    pen.fillStyle = '#b01c2e';
    pen.lineWidth = 1.2;
    pen.beginPath();
    pen.arc(x, y, 20, 0, 2 * Math.PI);
    pen.stroke();
    pen.beginPath();
    pen.moveTo(x + e.x * reach, y + e.y * reach);
    pen.lineTo(x - e.x * reach * 0.6 - e.y * 5, y - e.y * reach * 0.6 + e.x * 5);
    pen.lineTo(x - e.x * reach * 0.6 + e.y * 5, y - e.y * reach * 0.6 - e.x * 5);
    pen.fill();
    pen.font = 'bold 11px "DejaVu Sans", sans-serif';
    pen.textAlign = 'center';
    pen.fillStyle = getComputedStyle(document.body).color;
    pen.fillText('N', x + e.x * 28, y + e.y * 28 + 4);
  }

  // --- Drawing, only when something has changed. ---

  let frames = 0;
  let asked = false;
  let rest = 0;
  function draw() {
    asked = false;
    LAYERS.forEach(([name]) => { layers[name].visible = shown[name]; });
    sun.position.copy(camera.position).sub(middle).applyAxisAngle(new THREE.Vector3(0, 1, 0), -0.6);
    sun.position.y = Math.max(sun.position.y, radius);
    renderer.render(scene, camera);
    draw_labels();
    ++frames;
  }
  function ask() {
    if (!asked) {
      asked = true;
      requestAnimationFrame(draw);
    }
    clearTimeout(rest);
    rest = setTimeout(() => {
      rest = 0;
      find_in_view();
      draw();
    }, 90);
  }

  let has_moved = false;
  function fit() {
    const s = size();
    if (s.x === 0 || s.y === 0) return;
    renderer.setPixelRatio(Math.min(2, window.devicePixelRatio || 1));
    renderer.setSize(s.x, s.y, false);
    camera.aspect = s.x / s.y;
    camera.updateProjectionMatrix();
    if (!has_moved) look_from(new THREE.Vector3(0.62, 0.62, 0.78));
    ask();
  }
  /** From how far away all corners of the house are seen. */
  function distance_to_fit(direction) {
    const up = Math.tan(camera.fov * Math.PI / 360) * 0.86;
    const side = new THREE.Vector3(0, 1, 0).cross(direction);
    const right = side.lengthSq() < 1e-9 ? new THREE.Vector3(1, 0, 0) : side.normalize();
    const top = direction.clone().cross(right);
    let away = radius * 0.2;
    corners.forEach((corner) => {
      const p = corner.clone().sub(middle);
      const needed = Math.max(Math.abs(p.dot(top)) / up, Math.abs(p.dot(right)) / (up * camera.aspect));
      away = Math.max(away, needed + p.dot(direction));
    });
    return away;
  }
  /** The whole house from a direction. */
  function look_from(direction) {
    const away = distance_to_fit(direction.normalize());
    controls.target.copy(middle);
    camera.position.copy(middle).addScaledVector(direction, away);
    camera.lookAt(middle);
    camera.updateMatrixWorld();
    // What is near looks larger, so the middle of the picture is not the middle of the house.
    const heights = corners.map((corner) => corner.clone().project(camera).y);
    if (heights.length > 0) {
      const off = (Math.max(...heights) + Math.min(...heights)) / 2;
      const up = new THREE.Vector3(0, 1, 0).applyQuaternion(camera.quaternion);
      const shift = up.multiplyScalar(off * away * Math.tan(camera.fov * Math.PI / 360));
      controls.target.add(shift);
      camera.position.add(shift);
    }
    camera.near = away / 200;
    camera.far = away * 8;
    camera.updateProjectionMatrix();
    controls.minDistance = radius * 0.08;
    controls.maxDistance = away * 3;
    controls.update();
    ask();
  }
  /** Turns to a thing that is out of sight or faces away. */
  function turn_to(one) {
    const p = at(one.at);
    const from = camera.position.clone().sub(controls.target);
    const normals = (one.normals || (one.normal ? [one.normal] : [])).map(at);
    const sum = normals.reduce((a, b) => a.add(b), new THREE.Vector3());
    if (sum.lengthSq() > 1e-6 && sum.normalize().dot(from.clone().normalize()) < 0.35) {
      const flat = new THREE.Vector3(sum.x, 0, sum.z);
      const ahead = flat.lengthSq() > 1e-6 ? flat.normalize() : new THREE.Vector3(0.6, 0, 0.8);
      from.copy(ahead.multiplyScalar(0.8).add(new THREE.Vector3(0, 0.6, 0))).setLength(radius * 2.6);
    }
    from.setLength(Math.min(from.length(), radius * 2.6));
    controls.target.copy(p);
    camera.position.copy(p).add(from);
    has_moved = true;
    controls.update();
  }

  let glow = null;
  choose = function (key, turn) {
    chosen = key;
    if (glow) {
      glow.parent.remove(glow);
      glow = null;
    }
    decks.forEach((meshes) => meshes.forEach((mesh) => mesh.material.color.copy(colour(FACES.deck.colour))));
    if (key === null) {
      delete $('chosen').dataset.key;
      ask();
      return;
    }
    const one = things.get(key);
    (decks.get(key) || []).forEach((mesh) => mesh.material.color.lerp(colour(CHOSEN), 0.75));
    if (one.from) {
      const from = at(one.from);
      const to = at(one.to);
      if (from.distanceTo(to) < 1e-6) to.y += radius * 0.06;
      glow = bars([[from, to]], radius * 0.0021 * 3.4, CHOSEN, 3);
      scene.add(glow);
    }
    tell(key);
    if (turn) turn_to(one);
    ask();
  };

  // --- Fingers, mouse, keys, switches. ---

  let down = null;
  let fingers = 0;
  canvas.addEventListener('pointerdown', (event) => {
    fingers = event.isPrimary ? 1 : fingers + 1;
    down = event.isPrimary ? { x: event.clientX, y: event.clientY, id: event.pointerId } : down;
  });
  window.addEventListener('pointerup', (event) => {
    if (!down || event.pointerId !== down.id) return;
    const still = Math.hypot(event.clientX - down.x, event.clientY - down.y) < 7;
    const box = canvas.getBoundingClientRect();
    if (still && fingers === 1 && event.button === 0) {
      const breadth = event.pointerType === 'touch' ? 16 : 9;
      choose(pick(event.clientX - box.left, event.clientY - box.top, breadth), false);
    }
    down = null;
  });
  controls.addEventListener('change', ask);
  controls.addEventListener('start', () => { has_moved = true; });
  controls.enableKeys = false;
  canvas.addEventListener('keydown', (event) => {
    const turns = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };
    const step = turns[event.key];
    const nearer = { '+': 0.85, '=': 0.85, '-': 1 / 0.85 }[event.key];
    if (!step && !nearer) return;
    event.preventDefault();
    const from = camera.position.clone().sub(controls.target);
    const ball = new THREE.Spherical().setFromVector3(from);
    if (step) {
      ball.theta += step[0] * 0.14;
      ball.phi = Math.max(0.05, Math.min(Math.PI - 0.05, ball.phi + step[1] * 0.1));
    } else {
      ball.radius *= nearer;
    }
    camera.position.copy(controls.target).add(new THREE.Vector3().setFromSpherical(ball));
    has_moved = true;
    controls.update();
  });

  const tools = $('tools');
  function button(text, act) {
    const one = document.createElement('button');
    one.type = 'button';
    one.textContent = text;
    one.addEventListener('click', act);
    tools.append(one);
  }
  button('Whole roof', () => look_from(new THREE.Vector3(0.62, 0.62, 0.78)));
  button('From above', () => look_from(new THREE.Vector3(0, 1, 0.001)));
  LAYERS.forEach(([name, text]) => {
    const one = document.createElement('label');
    const box = document.createElement('input');
    box.type = 'checkbox';
    box.checked = shown[name];
    box.dataset.layer = name;
    box.addEventListener('change', () => {
      shown[name] = box.checked;
      if (name === 'glass') {
        decks.forEach((meshes) => meshes.forEach((mesh) => {
          mesh.material.transparent = box.checked;
          mesh.material.opacity = box.checked ? 0.3 : 1;
          mesh.material.depthWrite = !box.checked;
          mesh.material.needsUpdate = true;
        }));
      }
      ask();
    });
    one.append(box, document.createTextNode(text));
    tools.append(one);
  });

  new ResizeObserver(fit).observe(stage);
  window.addEventListener('beforeprint', fit);

  const bytes = Uint8Array.from(atob($('glb').textContent.trim()), (c) => c.charCodeAt(0));
  new THREE.GLTFLoader().parse(bytes.buffer, '', (gltf) => {
    take(gltf);
    lines();
    fit();
    // Where a test, or a script of the reader's own, finds things.
    window.roof_view = {
      frames: () => frames,
      is_at_rest: () => !asked && rest === 0,
      pick: (x, y) => pick(x, y, 9),
      /** A place of the page at which a tap finds the thing; null where it is out of sight. */
      place: (key, breadth) => {
        const box = canvas.getBoundingClientRect();
        for (let y = 4; y < box.height; y += 5) {
          for (let x = 4; x < box.width; x += 5) {
            if (pick(x, y, breadth || 9) === key) return { x: box.left + x, y: box.top + y };
          }
        }
        return null;
      },
    };
  }, (error) => {
    wait.hidden = false;
    wait.textContent = 'The roof can\'t be drawn: ' + error.message;
  });
})();
