// @ts-check
// What a person does on the page: step, and mark the gap between two pictures. Every
// mark goes to the server, which computes; nothing here knows a time.
import { Pictures, decoderOf } from './decode.js';

/** @typedef {{ foot: string, kind: string, before: number, after: number }} Mark */
/** @typedef {Mark | 'before' | 'after'} Step a mark, or the edge by which the newest mark was widened */
/** @typedef {import('./decode.js').Coded} Coded */
/** @typedef {{ id: string, key: string, copy: boolean, tracks: number[], track: number, timescale: number, ticks: number[], turn: number, mirrored: boolean, media: Coded | null }} Clip */
/** @typedef {{ foot: string, kind: string, frame: number | null }} Expected */

/** @template {HTMLElement} T @param {string} id @returns {T} */
const part = (id) => /** @type {T} */ (document.getElementById(id));
const FEET = ['left', 'right', 'both'];
const KINDS = ['touchdown', 'toe-off'];
/** How a picture before and after an event is called. @type {Record<string, [string, string]>} */
const SIDES = { touchdown: ['not yet on the ground', 'on the ground'], 'toe-off': ['still on the ground', 'off the ground'] };
const FEET_SAID = /** @type {Record<string, string>} */ ({ left: 'left', right: 'right', both: 'both feet' });
const KINDS_SAID = /** @type {Record<string, string>} */ ({ touchdown: 'Touchdown', 'toe-off': 'Toe-off' });

const form = /** @type {HTMLInputElement} */ (document.querySelector('#about [name=form]')).value;
const stage = /** @type {HTMLCanvasElement} */ (part('stage'));
const crops = /** @type {HTMLCanvasElement[]} */ ([...document.querySelectorAll('[data-crop]')]);

/** The open clip; nothing before one is. @type {Clip} */ let clip;
/** @type {Pictures | null} */ let pictures = null;
let frame = 0;
/** The square around the foot: centre and side, parts of the picture's height and width. */
let square = { x: 0.5, y: 0.8, side: 0.3 };
/** What was done, in order; the marks follow from it. @type {Step[]} */ let steps = [];
/** @type {Expected | null} */ let expected = null;
/** What the person chose instead of what was expected. */ let instead = { foot: '', kind: '' };
/** @type {{ first: [number, number] | null, second: [number, number] | null }} */ let moments = { first: null, second: null };
/** The newest change, ended where none is under way. @type {Promise<unknown>} */ let changing = Promise.resolve();
/** Gaps whose marks wait to be computed. @type {Set<string>} */ const pending = new Set();
let shown = 0;
let playing = false;
/** How often playing was begun. */ let played = 0;
/** A clip is just being opened. */ let opening = false;
/** Where the saved take stands. */ let saved = '';
/** The clip is being left: nothing of it is kept any more. */ let left = false;
/** What is said about the clip besides its marks. */
const FIELDS = ['rate', 'with', 'height', 'height-u', 'first-s', 'second-s', 'digit', 'exercise', 'day'];
/** @param {string} id */
const field = (id) => /** @type {HTMLInputElement | HTMLSelectElement | null} */ (document.getElementById(id));
/** What stands in a field; empty where the page has none of it. @param {string} id */
const value = (id) => field(id)?.value ?? '';

/** Does `what` when everything before it is done: a change is made of what the last one
 * came to. @param {() => Promise<unknown>} what */
function inTurn(what) {
  changing = changing.then(what).catch(trouble);
  return changing;
}

// ---- the server

/** @param {string} path @param {unknown} [what] */
async function send(path, what) {
  const answer = await fetch(path, { method: 'POST', headers: { 'x-form': form, 'content-type': 'application/json' }, body: JSON.stringify(what ?? {}) });
  return read(answer);
}

/** @param {Response} answer */
async function read(answer) {
  if (answer.status === 204) return null;
  const text = await answer.text();
  let said;
  try { said = JSON.parse(text); } catch { said = null; }
  if (!answer.ok) throw new Error(said?.trouble ?? 'The program did not answer. Is it still running?');
  return said;
}

/** @param {unknown} why */
function trouble(why) {
  const line = part('trouble');
  line.textContent = why instanceof Error ? why.message : String(why ?? '');
  line.hidden = !line.textContent;
}

// ---- which clip

/** @param {File} file */
async function receive(file) {
  trouble('');
  // Said before it is sent: a browser that is stopped in the middle hears no answer.
  const most = Number(part('file').dataset.most);
  if (file.size > most) throw new Error(`The clip has more than ${most / 2 ** 30} GB; cut it around the contacts.`);
  const sending = /** @type {HTMLProgressElement} */ (part('sending'));
  sending.hidden = false;
  const request = new XMLHttpRequest();
  request.upload.addEventListener('progress', (event) => { if (event.lengthComputable) sending.value = event.loaded / event.total; });
  request.open('POST', '/take/clip');
  request.setRequestHeader('x-form', form);
  const answer = await new Promise((go) => {
    request.addEventListener('loadend', () => go(request));
    request.send(file);
  });
  sending.hidden = true;
  let said;
  try { said = JSON.parse(answer.responseText); } catch { said = null; }
  if (answer.status !== 200) throw new Error(said?.trouble ?? 'The clip did not arrive.');
  await open(said);
}

/** Opens a clip, one at a time. @param {() => Promise<unknown>} what */
async function once(what) {
  if (opening) return;
  opening = true;
  try { await what(); } catch (why) { trouble(why); } finally { opening = false; }
}

/** Where what was done on the clip is kept: by its bytes, so that it comes back after
 * another start of the program too. */
const keptAt = () => `take-${clip.key}-${clip.track}`;

/** Opens a clip; what was marked on it in this tab comes back. @param {Clip} index */
async function open(index) {
  clip = index;
  steps = [];
  frame = 0;
  expected = null;
  instead = { foot: '', kind: '' };
  moments = { first: null, second: null };
  const kept = JSON.parse(sessionStorage.getItem(keptAt()) ?? 'null');
  if (kept) {
    ({ steps, frame, square, moments } = kept);
    for (const [id, value] of Object.entries(kept.fields)) {
      const input = field(id);
      if (input) input.value = value;
    }
  }
  withChosen();
  saidMoments();
  const address = new URL(location.href);
  address.searchParams.set('clip', clip.id);
  history.replaceState(null, '', address);
  const along = /** @type {HTMLInputElement} */ (part('along'));
  along.max = String(clip.ticks.length - 1);
  const track = /** @type {HTMLSelectElement} */ (part('track'));
  track.replaceChildren(...clip.tracks.map((id) => new Option(`Track ${id}`, String(id), false, id === clip.track)));
  part('track-label').hidden = clip.tracks.length < 2;
  part('choose').hidden = true;
  part('work').hidden = false;
  part('save-delete').hidden = clip.copy;
  part('copy-note').hidden = !clip.copy;
  pictures = null;
  part('pictures-note').hidden = true;
  const config = await decoderOf(clip.media);
  if (config && clip.media) pictures = new Pictures(`/take/clip/${clip.id}/bytes`, clip.media, config, clip);
  else drawn(clip.id).catch(trouble);
  await inTurn(compute);
  await show(frame);
}

/** Pictures that ffmpeg draws where the browser decodes none. @param {string} id */
async function drawn(id) {
  const note = part('pictures-note');
  note.hidden = false;
  note.textContent = 'This browser cannot decode the clip; its pictures are drawn by ffmpeg…';
  let state = await send(`/take/clip/${id}/pictures`);
  while (clip?.id === id && state.state === 'underway') {
    note.textContent = `This browser cannot decode the clip; ffmpeg has drawn ${state.done} of ${clip.ticks.length} pictures.`;
    await new Promise((go) => setTimeout(go, 300));
    state = await read(await fetch(`/take/clip/${id}/pictures`));
  }
  if (clip?.id !== id) return;
  const config = state.state === 'drawn' ? await decoderOf(state.media) : null;
  if (config) {
    note.textContent = 'The pictures were drawn anew by ffmpeg, one for each frame; the times are those of the clip itself.';
    pictures = new Pictures(`/take/clip/${id}/pictures/bytes`, state.media, config, clip);
    await show(frame);
  } else {
    note.textContent = state.why ?? 'This browser decodes none of these pictures. Frames can still be marked by their times.';
  }
}

function keep() {
  if (left) return;
  const fields = Object.fromEntries(FIELDS.map((id) => [id, field(id)?.value]).filter(([, value]) => value !== undefined));
  sessionStorage.setItem(keptAt(), JSON.stringify({ steps, frame, square, moments, fields }));
}

// ---- the pictures

/** @param {number} n */
async function show(n) {
  frame = Math.max(0, Math.min(clip.ticks.length - 1, n));
  const turn = ++shown;
  /** @type {HTMLInputElement} */ (part('along')).value = String(frame);
  said();
  if (!pictures) {
    blank();
    return;
  }
  try {
    const middle = await pictures.picture(frame);
    if (turn !== shown) return;
    drawStage(middle);
    await Promise.all(crops.map(async (crop) => {
      const n = frame + Number(crop.dataset.crop);
      if (n < 0 || n >= clip.ticks.length) return drawCrop(crop, null, n);
      const picture = n === frame ? middle : await /** @type {Pictures} */ (pictures).picture(n);
      if (turn === shown) drawCrop(crop, picture, n);
    }));
    // The middle one is where the person is.
    if (turn === shown) await pictures.picture(frame);
  } catch (why) {
    if (turn === shown) trouble(why);
  }
  keep();
}

/** Nothing is shown where there are no pictures: no black ones either. */
function blank() {
  withPictures(false);
  stage.dataset.frame = '';
  crops.forEach((crop) => drawCrop(crop, null, frame + Number(crop.dataset.crop)));
  keep();
}

/** @param {boolean} any */
function withPictures(any) {
  for (const place of [part('stage-frame'), part('square-hint'), ...crops]) place.hidden = !any;
}

/** @param {OffscreenCanvas} picture */
function drawStage(picture) {
  withPictures(true);
  if (stage.width !== picture.width || stage.height !== picture.height) [stage.width, stage.height] = [picture.width, picture.height];
  const draw = /** @type {CanvasRenderingContext2D} */ (stage.getContext('2d'));
  draw.drawImage(picture, 0, 0);
  const [x, y, side] = squareIn(picture);
  draw.lineWidth = Math.max(2, picture.width / 320);
  draw.strokeStyle = '#000000';
  draw.strokeRect(x, y, side, side);
  draw.strokeStyle = '#f0e442';
  draw.setLineDash([draw.lineWidth * 3, draw.lineWidth * 3]);
  draw.strokeRect(x, y, side, side);
  draw.setLineDash([]);
  stage.dataset.frame = String(frame);
}

/** The square in pixels, whole inside the picture. @param {{ width: number, height: number }} picture */
function squareIn({ width, height }) {
  const side = Math.max(16, Math.min(width, height, square.side * height));
  const within = (/** @type {number} */ at, /** @type {number} */ most) => Math.max(0, Math.min(most - side, at - side / 2));
  return [within(square.x * width, width), within(square.y * height, height), side];
}

/** @param {HTMLCanvasElement} crop @param {OffscreenCanvas | null} picture @param {number} n */
function drawCrop(crop, picture, n) {
  const draw = /** @type {CanvasRenderingContext2D} */ (crop.getContext('2d'));
  draw.clearRect(0, 0, crop.width, crop.height);
  draw.imageSmoothingEnabled = false;
  crop.dataset.frame = picture ? String(n) : '';
  if (picture) {
    const [x, y, side] = squareIn(picture);
    draw.drawImage(picture, x, y, side, side, 0, 0, crop.width, crop.height);
  }
  const caption = /** @type {HTMLElement} */ (crop.parentElement?.querySelector('figcaption'));
  const outside = n < 0 || n >= clip.ticks.length;
  caption.textContent = outside ? '—' : picture ? `frame ${n}` : `frame ${n}, ${seconds(n)}`;
}

/** The time in the clip as it is stored. @param {number} n */
function seconds(n) {
  return `${(clip.ticks[n] / clip.timescale).toFixed(4)} s`;
}

function said() {
  const tick = clip.ticks[frame];
  const cut = tick < 0 ? ' · before the part that a player shows' : '';
  part('where').textContent = `Frame ${frame} · the last is ${clip.ticks.length - 1} · ${seconds(frame)} in the clip${cut}`;
  const { foot, kind } = coming();
  const [before, after] = SIDES[kind];
  part('gap-hint').textContent = `Step until one picture shows the foot ${before} and the next one ${after}, and press the gap between them. Where the middle one could be either, it is in doubt.`;
  const gap = (/** @type {string} */ id, /** @type {number} */ from, /** @type {number} */ to) => {
    const button = /** @type {HTMLButtonElement} */ (part(id));
    const possible = from >= 0 && to < clip.ticks.length;
    button.disabled = !possible;
    button.textContent = possible ? 'here' : '';
    button.setAttribute('aria-label', possible ? `${KINDS_SAID[kind]}, ${FEET_SAID[foot]}: between frames ${from} and ${to}` : 'No gap here');
  };
  gap('gap-before', frame - 1, frame);
  gap('gap-after', frame, frame + 1);
  const doubt = /** @type {HTMLButtonElement} */ (part('doubt'));
  doubt.disabled = frame < 1 || frame + 1 >= clip.ticks.length;
  doubt.setAttribute('aria-label', `${KINDS_SAID[kind]}, ${FEET_SAID[foot]}: in doubt at frame ${frame}`);
  const ended = !expected && steps.length > 0 && !instead.foot && !instead.kind;
  const next = `${KINDS_SAID[kind]}, ${FEET_SAID[foot]}`;
  part('expected').textContent = ended ? `The exercise ends here; a further mark would be: ${next}` : next;
}

/** The event that is marked next: as expected, or as the person chose. */
function coming() {
  return { foot: instead.foot || expected?.foot || 'left', kind: instead.kind || expected?.kind || 'touchdown' };
}

// ---- the marks

/** The marks in the order in which they were put. */
function put() {
  /** @type {Mark[]} */ const marks = [];
  for (const step of steps) {
    const newest = marks[marks.length - 1];
    if (typeof step !== 'string') marks.push({ ...step });
    else if (step === 'before') newest.before -= 1;
    else newest.after += 1;
  }
  return marks;
}

/** The marks in the order of time. */
function inTime() {
  const twice = (/** @type {Mark} */ mark) => clip.ticks[mark.before] + clip.ticks[mark.after];
  return put().sort((a, b) => twice(a) - twice(b));
}

/** What the server computes from. */
function sent() {
  const rate = Number(value('rate'));
  const set = value('set');
  return {
    member: value('member'), set, exercise: set ? '' : value('exercise'), day: set ? '' : value('day'),
    capture_mhz: rate > 0 ? Math.round(rate * 1000) : null,
    measured: measured(),
    marks: inTime(),
  };
}

function measured() {
  const { first, second } = moments;
  const thousandth = (/** @type {string} */ id) => Math.round(Number(value(id)) * 1000);
  if (!first || !second) return null;
  if (value('with') === 'ball') return { with: 'ball', released: first, landed: second, height_mm: thousandth('height'), height_u_mm: Math.round(Number(value('height-u')) * 10) };
  if (value('with') === 'clock') return { with: 'clock', first: first[1], first_ms: thousandth('first-s'), second: second[1], second_ms: thousandth('second-s'), digit_ms: thousandth('digit') };
  return null;
}

/** Has the marks computed and shows what they come to; gives whether they can be. */
async function compute() {
  let answer;
  try {
    answer = await send(`/take/clip/${clip.id}/marked`, sent());
  } catch (why) {
    trouble(why);
    return false;
  }
  trouble('');
  expected = answer.expected;
  const none = steps.length === 0;
  part('clock-text').textContent = answer.clock.text;
  if (!answer.clock.known) /** @type {HTMLDetailsElement} */ (part('clock')).open = true;
  part('evidence').replaceChildren(...answer.clock.evidence.map((/** @type {string} */ text) => item(text)));
  const warnings = part('warnings');
  warnings.textContent = answer.clock.warnings.join(' ');
  warnings.hidden = answer.clock.warnings.length === 0;
  part('marks').replaceChildren(...answer.marks.map((/** @type {[string, boolean]} */ [text, doubted]) => item(text, doubted ? 'doubted' : '')));
  part('times').innerHTML = none ? '' : answer.take;
  const why = part('no-times');
  why.textContent = answer.trouble || (none ? 'Nothing is marked yet.' : '');
  why.hidden = !why.textContent;
  for (const id of ['save', 'save-delete']) /** @type {HTMLButtonElement} */ (part(id)).disabled = none || !answer.may_save;
  for (const id of ['undo', 'wider-before', 'wider-after']) /** @type {HTMLButtonElement} */ (part(id)).disabled = none;
  keep();
  said();
  return true;
}

/** Takes other steps for done, where they can be computed. @param {Step[]} other */
async function change(other) {
  const held = steps;
  steps = other;
  if (!await compute()) {
    steps = held;
    return false;
  }
  instead = { foot: '', kind: '' };
  said();
  keep();
  return true;
}

/** @param {string} text @param {string} [kind] */
function item(text, kind) {
  const line = document.createElement('li');
  line.textContent = text;
  if (kind) line.className = kind;
  return line;
}

/** Takes a bracket as the event that comes next, and jumps near to the one after.
 * @param {number} before @param {number} after */
function mark(before, after) {
  if (before < 0 || after >= clip.ticks.length) return;
  // Pressed twice, a gap is still one mark.
  const gap = `${before} ${after}`;
  if (pending.has(gap)) return;
  pending.add(gap);
  const at = frame;
  inTurn(async () => {
    try {
      if (!await change([...steps, { ...coming(), before, after }])) return;
    } finally {
      pending.delete(gap);
    }
    const last = inTime().pop();
    // Whoever stepped on meanwhile, or put in an earlier mark, stays.
    if (expected?.frame != null && frame === at && last?.before === before && last.after === after) await show(expected.frame);
  });
}

/** Takes the newest step back. */
function undo() {
  inTurn(async () => {
    const newest = put().pop();
    if (newest && await change(steps.slice(0, -1))) await show(newest.after);
  });
}

/** Widens the newest mark. @param {'before' | 'after'} edge */
function widen(edge) {
  inTurn(async () => {
    const newest = put().pop();
    const possible = edge === 'before' ? newest && newest.before > 0 : newest && newest.after + 1 < clip.ticks.length;
    if (possible) await change([...steps, edge]);
  });
}

/** @param {'foot' | 'kind'} what */
function other(what) {
  inTurn(async () => {
    const list = what === 'foot' ? FEET : KINDS;
    instead[what] = list[(list.indexOf(coming()[what]) + 1) % list.length];
    said();
  });
}

/** @param {boolean} remove */
function save(remove) {
  inTurn(async () => {
    if (left) return;
    // Once: where closing failed, the times are saved already.
    if (!saved) saved = (await send(`/take/clip/${clip.id}/save`, sent())).path;
    await send(`/take/clip/${clip.id}/close`, { delete: remove });
    go(saved);
  });
}

/** Leaves the clip, of which nothing stays here. @param {string | URL} to */
function go(to) {
  left = true;
  sessionStorage.removeItem(keptAt());
  location.assign(to);
}

async function leave() {
  try { await send(`/take/clip/${clip.id}/close`, { delete: false }); } catch { /* It is closed already. */ }
  const address = new URL(location.href);
  address.searchParams.delete('clip');
  go(address);
}

async function play() {
  const button = part('play');
  playing = !playing;
  button.setAttribute('aria-pressed', String(playing));
  button.textContent = playing ? 'Stop' : 'Play';
  if (!playing) return;
  const run = ++played;
  while (playing && run === played && frame + 1 < clip.ticks.length) {
    const pace = Number(value('pace'));
    const beat = new Promise((done) => setTimeout(done, 1000 / pace));
    // Each picture is seen, however slowly it is decoded.
    await show(frame + 1);
    await beat;
  }
  if (playing && run === played) play();
}

/** @param {number} x @param {number} y @param {number} side */
function moveSquare(x, y, side) {
  const within = (/** @type {number} */ at) => Math.max(0, Math.min(1, at));
  square = { x: within(x), y: within(y), side: Math.max(0.05, Math.min(1, side)) };
  show(frame);
}

// ---- what the person touches

part('file').addEventListener('change', (event) => {
  const input = /** @type {HTMLInputElement} */ (event.target);
  const [file] = input.files ?? [];
  if (file) once(() => receive(file));
  // The same file can be chosen once more.
  input.value = '';
});
for (const kind of ['dragover', 'drop']) {
  document.addEventListener(kind, (event) => {
    event.preventDefault();
    const [file] = /** @type {DragEvent} */ (event).dataTransfer?.files ?? [];
    if (kind === 'drop' && file && !clip && member) once(() => receive(file));
  });
}
document.querySelectorAll('[data-name]').forEach((button) => button.addEventListener('click', () => {
  once(async () => open(await send('/take/listed', { name: /** @type {HTMLElement} */ (button).dataset.name })));
}));
document.querySelectorAll('[data-step]').forEach((button) => button.addEventListener('click', () => show(frame + Number(/** @type {HTMLElement} */ (button).dataset.step))));
part('along').addEventListener('input', (event) => show(Number(/** @type {HTMLInputElement} */ (event.target).value)));
stage.addEventListener('click', (event) => {
  const box = stage.getBoundingClientRect();
  moveSquare((event.clientX - box.left) / box.width, (event.clientY - box.top) / box.height, square.side);
});
part('stage-frame').addEventListener('wheel', (event) => {
  const { deltaY, ctrlKey } = /** @type {WheelEvent} */ (event);
  // Sideways is no step, and with Ctrl the whole page is made larger.
  if (deltaY === 0 || ctrlKey) return;
  event.preventDefault();
  show(frame + Math.sign(deltaY));
}, { passive: false });
part('gap-before').addEventListener('click', () => mark(frame - 1, frame));
part('gap-after').addEventListener('click', () => mark(frame, frame + 1));
part('doubt').addEventListener('click', () => mark(frame - 1, frame + 1));
// A gap that is drawn over the picture beside it takes that picture in as doubtful.
let drawnFrom = '';
part('crops').addEventListener('pointerdown', (event) => {
  drawnFrom = /** @type {HTMLElement} */ (event.target).closest('.gap')?.id ?? '';
});
part('crops').addEventListener('pointerup', (event) => {
  const over = document.elementFromPoint(event.clientX, event.clientY);
  const middle = over?.closest('#doubt-figure') || (over?.closest('.gap') && over.closest('.gap')?.id !== drawnFrom);
  if (drawnFrom && middle) mark(frame - 1, frame + 1);
  drawnFrom = '';
});
part('undo').addEventListener('click', undo);
part('wider-before').addEventListener('click', () => widen('before'));
part('wider-after').addEventListener('click', () => widen('after'));
part('other-foot').addEventListener('click', () => other('foot'));
part('other-kind').addEventListener('click', () => other('kind'));
part('play').addEventListener('click', play);
part('save').addEventListener('click', () => save(false));
part('save-delete').addEventListener('click', () => save(true));
part('leave').addEventListener('click', leave);
function withChosen() {
  const chosen = value('with');
  part('ball').hidden = chosen !== 'ball';
  part('shown').hidden = chosen !== 'clock';
  for (const id of ['first', 'second']) /** @type {HTMLButtonElement} */ (part(id)).disabled = !chosen;
}
for (const id of FIELDS) {
  field(id)?.addEventListener('change', () => {
    withChosen();
    if (clip) inTurn(compute);
  });
}
function saidMoments() {
  const at = (/** @type {[number, number] | null} */ moment) => (moment ? `between frames ${moment[0]} and ${moment[1]}` : 'not taken yet');
  const taken = moments.first || moments.second;
  part('measured-at').textContent = taken ? `First moment: ${at(moments.first)}. Second: ${at(moments.second)}.` : '';
}
for (const which of /** @type {const} */ (['first', 'second'])) {
  part(which).addEventListener('click', () => {
    if (frame > 0) moments[which] = [frame - 1, frame];
    saidMoments();
    inTurn(compute);
  });
}
part('track').addEventListener('change', () => {
  const track = Number(value('track'));
  once(async () => {
    await changing;
    await open(await send(`/take/clip/${clip.id}/track`, { track }));
  });
});
/** The address with what is chosen about the clip. */
function chosen() {
  const address = new URL(location.href);
  for (const id of ['member', 'set']) {
    if (value(id)) address.searchParams.set(id, value(id)); else address.searchParams.delete(id);
  }
  return address;
}
part('member').addEventListener('change', () => {
  const address = chosen();
  address.searchParams.delete('set');
  location.assign(address);
});
function setChosen() {
  document.querySelectorAll('.no-set').forEach((label) => { /** @type {HTMLElement} */ (label).hidden = value('set') !== ''; });
}
field('set')?.addEventListener('change', () => {
  setChosen();
  history.replaceState(null, '', chosen());
  if (clip) inTurn(compute);
});
document.addEventListener('keydown', (event) => {
  const target = /** @type {HTMLElement} */ (event.target);
  if (!clip || event.ctrlKey || event.altKey || event.metaKey || target.matches('select, input:not([type=range])')) return;
  if (target.matches('button, summary, a') && (event.key === ' ' || event.key === 'Enter')) return;
  const step = event.shiftKey ? 10 : 1;
  /** @type {Record<string, () => void>} */
  const keys = {
    arrowleft: () => show(frame - step), arrowright: () => show(frame + step),
    home: () => show(0), end: () => show(clip.ticks.length - 1),
    pageup: () => show(frame - 10), pagedown: () => show(frame + 10),
    1: () => mark(frame - 1, frame), 2: () => mark(frame, frame + 1), 3: () => mark(frame - 1, frame + 1),
    f: () => other('foot'), t: () => other('kind'), u: undo, ' ': play,
    i: () => moveSquare(square.x, square.y - 0.02, square.side), k: () => moveSquare(square.x, square.y + 0.02, square.side),
    j: () => moveSquare(square.x - 0.02, square.y, square.side), l: () => moveSquare(square.x + 0.02, square.y, square.side),
    '+': () => moveSquare(square.x, square.y, square.side * 1.1), '-': () => moveSquare(square.x, square.y, square.side / 1.1),
  };
  const key = event.key.toLowerCase();
  const action = keys[key];
  if (!action) return;
  event.preventDefault();
  // A key that is held down steps and moves; it neither marks nor takes back again and again.
  if (event.repeat && '123ftu '.includes(key)) return;
  action();
});

// ---- begin

setChosen();
const member = value('member');
if (member) {
  part('choose').hidden = false;
  const wanted = new URL(location.href).searchParams.get('clip');
  if (wanted) {
    once(async () => open(await read(await fetch(`/take/clip/${encodeURIComponent(wanted)}`))));
  }
}
