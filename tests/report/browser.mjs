// A headless Chromium without a network, spoken to over a pipe (DevTools protocol): no port, no
// package.
import { spawn } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

const flags = [
  '--headless=new', '--no-sandbox', '--remote-debugging-pipe', '--use-gl=angle',
  '--use-angle=swiftshader', '--enable-unsafe-swiftshader', '--hide-scrollbars', '--mute-audio',
  '--no-first-run', '--no-default-browser-check', '--disable-background-networking',
  '--disable-component-update', '--disable-extensions', '--disable-sync', '--disable-dev-shm-usage',
  // Whoever asks for a name gets no answer: the page has to do without.
  '--host-resolver-rules=MAP * ~NOTFOUND',
];

export class Browser {
  constructor() {
    this.folder = mkdtempSync(join(tmpdir(), 'report-'));
    this.child = spawn('chromium', [...flags, `--user-data-dir=${this.folder}`, 'about:blank'],
      { stdio: ['ignore', 'ignore', 'ignore', 'pipe', 'pipe'] });
    this.gone = new Promise((resolve) => this.child.on('exit', resolve));
    this.waiting = new Map();
    this.listeners = [];
    this.next = 0;
    let pending = '';
    this.child.stdio[4].setEncoding('utf8').on('data', (text) => {
      const all = (pending + text).split('\0');
      pending = all.pop();
      all.forEach((one) => this.take(JSON.parse(one)));
    });
  }

  take(message) {
    if (message.id === undefined) {
      this.listeners.forEach((listen) => listen(message));
      return;
    }
    const { resolve, reject } = this.waiting.get(message.id);
    this.waiting.delete(message.id);
    if (message.error) reject(new Error(message.error.message));
    else resolve(message.result);
  }

  send(method, params = {}, sessionId = undefined) {
    const id = ++this.next;
    return new Promise((resolve, reject) => {
      this.waiting.set(id, { resolve, reject });
      this.child.stdio[3].write(`${JSON.stringify({ id, method, params, sessionId })}\0`);
    });
  }

  /** Opens a file as a screen of that size shows it. */
  async open(path, { width, height, touch = false, scale = 1, dark = false }) {
    const { targetId } = await this.send('Target.createTarget', { url: 'about:blank' });
    const { sessionId } = await this.send('Target.attachToTarget', { targetId, flatten: true });
    const page = new Page(this, targetId, sessionId);
    await page.send('Page.enable');
    await page.send('Runtime.enable');
    await page.send('Log.enable');
    await page.send('Network.enable');
    await page.send('Emulation.setDeviceMetricsOverride',
      { width, height, deviceScaleFactor: scale, mobile: touch });
    await page.send('Emulation.setTouchEmulationEnabled', { enabled: touch });
    await page.send('Emulation.setEmulatedMedia',
      { features: [{ name: 'prefers-color-scheme', value: dark ? 'dark' : 'light' }] });
    await page.send('Page.navigate', { url: `file://${path}` });
    await page.until('document.readyState === "complete"');
    return page;
  }

  async close() {
    this.send('Browser.close').catch(() => {});
    await Promise.race([this.gone, new Promise((resolve) => { setTimeout(resolve, 5000); })]);
    this.child.kill('SIGKILL');
    rmSync(this.folder, { recursive: true, force: true });
  }
}

class Page {
  constructor(browser, target, session) {
    this.browser = browser;
    this.target = target;
    this.session = session;
    this.requests = [];  // all that it asked for besides itself
    this.errors = [];    // what the console says
    browser.listeners.push((event) => {
      if (event.sessionId !== session) return;
      const p = event.params;
      if (event.method === 'Network.requestWillBeSent' && !/^(data|blob):/.test(p.request.url)) {
        this.requests.push(p.request.url);
      } else if (event.method === 'Runtime.exceptionThrown') {
        this.errors.push(p.exceptionDetails.exception?.description ?? p.exceptionDetails.text);
      } else if (event.method === 'Runtime.consoleAPICalled' && ['error', 'warning', 'assert'].includes(p.type)) {
        this.errors.push(p.args.map((one) => one.value ?? one.description).join(' '));
      } else if (event.method === 'Log.entryAdded' && p.entry.level === 'error') {
        this.errors.push(p.entry.text);
      }
    });
  }

  send(method, params) { return this.browser.send(method, params, this.session); }

  async run(expression) {
    const answer = await this.send('Runtime.evaluate',
      { expression, returnByValue: true, awaitPromise: true });
    if (answer.exceptionDetails) {
      throw new Error(answer.exceptionDetails.exception?.description ?? answer.exceptionDetails.text);
    }
    return answer.result.value;
  }

  async until(expression, within_ms = 30000) {
    const end = Date.now() + within_ms;
    for (;;) {
      if (await this.run(expression)) return;
      if (Date.now() > end) throw new Error(`not within ${within_ms} ms: ${expression}`);
      await new Promise((resolve) => { setTimeout(resolve, 25); });
    }
  }

  async click({ x, y }) {
    for (const type of ['mousePressed', 'mouseReleased']) {
      await this.send('Input.dispatchMouseEvent', { type, x, y, button: 'left', clickCount: 1 });
    }
  }

  async drag(from, to) {
    const event = (type, p) => this.send('Input.dispatchMouseEvent',
      { type, x: p.x, y: p.y, button: 'left', buttons: 1, clickCount: 1 });
    await event('mousePressed', from);
    await event('mouseMoved', { x: (from.x + to.x) / 2, y: (from.y + to.y) / 2 });
    await event('mouseMoved', to);
    await event('mouseReleased', to);
  }

  async wheel({ x, y }, by) {
    await this.send('Input.dispatchMouseEvent', { type: 'mouseWheel', x, y, deltaX: 0, deltaY: by });
  }

  /** Fingers at places, moved to others, lifted. */
  async touch(from, to = from) {
    const points = (all) => all.map((p, id) => ({ x: p.x, y: p.y, id }));
    await this.send('Input.dispatchTouchEvent', { type: 'touchStart', touchPoints: points(from) });
    if (to !== from) {
      const half = from.map((p, i) => ({ x: (p.x + to[i].x) / 2, y: (p.y + to[i].y) / 2 }));
      await this.send('Input.dispatchTouchEvent', { type: 'touchMove', touchPoints: points(half) });
      await this.send('Input.dispatchTouchEvent', { type: 'touchMove', touchPoints: points(to) });
    }
    await this.send('Input.dispatchTouchEvent', { type: 'touchEnd', touchPoints: [] });
  }

  /** PNG, of what the screen shows or of the whole page. */
  async picture(whole = false) {
    const { data } = await this.send('Page.captureScreenshot',
      { format: 'png', captureBeyondViewport: whole });
    return Buffer.from(data, 'base64');
  }

  async pdf() {
    const { data } = await this.send('Page.printToPDF', { printBackground: true, preferCSSPageSize: false });
    return Buffer.from(data, 'base64');
  }

  async close() { await this.browser.send('Target.closeTarget', { targetId: this.target }); }
}
