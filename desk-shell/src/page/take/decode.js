// @ts-check
// Exactly frame n. The server tells where each coded picture lies and which frame it is;
// a picture's time stamp in the decoder is its frame number, so that nothing is rounded.

/** Pictures kept around the one that is looked at, on either side. */
const AROUND = 24;
/** Bytes of decoded pictures that are kept. */
const KEPT_BYTES = 384 * 1024 * 1024;
/** Bytes that are fetched at a time. */
const FETCHED_BYTES = 8 * 1024 * 1024;
/** Bytes of one coded picture; a phone's best stays far below. */
const MOST_BYTES = 64 * 1024 * 1024;
/** Coded pictures that wait in the decoder. */
const QUEUED = 8;

/**
 * @typedef {[number, number, number, boolean]} Sample byte, size, frame, key
 * @typedef {{ codec: string, description: string, samples: Sample[] }} Coded
 * @typedef {{ turn: number, mirrored: boolean }} Orientation
 * @typedef {{ from: number, to: number, first: number, last: number, stopped: boolean }} Run
 */

/** @param {string} text */
function bytesOf(text) {
  return Uint8Array.from(atob(text), (letter) => letter.charCodeAt(0));
}

/** How the browser decodes these pictures; null where it cannot.
 * @param {Coded | null} coded */
export async function decoderOf(coded) {
  if (!coded || !('VideoDecoder' in window)) return null;
  /** @type {VideoDecoderConfig} */
  const config = { codec: coded.codec };
  if (coded.description) config.description = bytesOf(coded.description);
  try {
    const { supported } = await VideoDecoder.isConfigSupported(config);
    return supported ? config : null;
  } catch {
    return null;
  }
}

export class Pictures {
  /** @type {Map<number, OffscreenCanvas>} */ #kept = new Map();
  /** @type {Map<number, { promise: Promise<OffscreenCanvas>, resolve: (picture: OffscreenCanvas) => void, reject: (why: Error) => void }>} */
  #awaited = new Map();
  /** @type {Run | null} */ #run = null;
  #centre = 0;
  #mostKept = 2 * AROUND + 8;

  /** @param {string} url where the file's bytes are
   * @param {Coded} coded @param {VideoDecoderConfig} config @param {Orientation} orientation */
  constructor(url, coded, config, orientation) {
    this.url = url;
    this.samples = coded.samples;
    this.config = config;
    this.orientation = orientation;
    /** Where each frame stands in decoding order. @type {Int32Array} */
    this.decoded = new Int32Array(this.samples.length);
    this.samples.forEach((sample, at) => { this.decoded[sample[2]] = at; });
  }

  /** Frame `n` as a canvas, upright. @param {number} n */
  async picture(n) {
    this.#centre = n;
    const kept = this.#kept.get(n);
    if (kept) {
      this.#ahead(n);
      return kept;
    }
    let awaited = this.#awaited.get(n);
    if (!awaited) {
      let resolve, reject;
      const promise = new Promise((yes, no) => { resolve = yes; reject = no; });
      // Whoever asked may have stepped on: nobody then hears why it failed.
      promise.catch(() => {});
      awaited = /** @type {any} */ ({ promise, resolve, reject });
      this.#awaited.set(n, /** @type {any} */ (awaited));
    }
    if (!this.#coming(n)) {
      if (this.#run) this.#run.stopped = true;
      else this.#next();
    }
    return /** @type {any} */ (awaited).promise;
  }

  /** Whether the run under way brings frame `n`. @param {number} n */
  #coming(n) {
    const run = this.#run, at = this.decoded[n];
    return run !== null && !run.stopped && n >= run.first && n <= run.last && at >= run.from && at <= run.to;
  }

  /** The key picture from which frame `n` is decoded. A key that is shown after it may be
   * that of an open group, which needs the one before. @param {number} n */
  #key(n) {
    for (let at = this.decoded[n]; at > 0; at -= 1) {
      const [, , frame, key] = this.samples[at];
      if (key && frame <= n) return at;
    }
    return 0;
  }

  /** Begins the run that the person waits for, else one around where they look. */
  #next() {
    const wanted = [...this.#awaited.keys()].sort((a, b) => Math.abs(a - this.#centre) - Math.abs(b - this.#centre))[0];
    if (wanted !== undefined) this.#start(wanted, this.#key(wanted));
    else this.#ahead(this.#centre);
  }

  /** Decodes what is about to be looked at. @param {number} n */
  #ahead(n) {
    if (this.#run) return;
    const last = this.samples.length - 1;
    const missing = (/** @type {number} */ from, /** @type {number} */ to) => {
      for (let frame = Math.max(0, from); frame <= Math.min(last, to); frame += 1) if (!this.#kept.has(frame)) return frame;
      return -1;
    };
    if (missing(n, n + AROUND / 2) >= 0 || missing(n - AROUND / 2, n) >= 0) {
      this.#start(n, this.#key(Math.max(0, n - AROUND)));
    }
  }

  /** @param {number} n @param {number} from */
  #start(n, from) {
    const first = Math.max(0, n - AROUND), last = Math.min(this.samples.length - 1, n + AROUND);
    let to = this.decoded[n];
    for (let frame = first; frame <= last; frame += 1) to = Math.max(to, this.decoded[frame]);
    const run = { from, to, first, last, stopped: false };
    this.#run = run;
    this.#decode(run).catch((why) => this.#failed(run, why)).finally(() => {
      this.#run = null;
      if (!run.stopped) {
        // What this run should have brought and did not will not come.
        for (const [frame, { reject }] of [...this.#awaited]) {
          const at = this.decoded[frame];
          if (frame >= run.first && frame <= run.last && at >= run.from && at <= run.to) {
            this.#awaited.delete(frame);
            reject(new Error(`Frame ${frame} could not be decoded.`));
          }
        }
        if (this.#awaited.size > 0) this.#next();
      } else {
        this.#next();
      }
    });
  }

  /** @param {Run} run @param {Error} why */
  #failed(run, why) {
    if (run.stopped) return;
    for (const [frame, { reject }] of [...this.#awaited]) {
      this.#awaited.delete(frame);
      reject(why);
    }
  }

  /** @param {Run} run */
  async #decode(run) {
    /** @type {Error | null} */ let wrong = null;
    // Whoever waits for room in the decoder waits for its end too.
    let wake = () => {};
    const decoder = new VideoDecoder({
      output: (frame) => this.#keep(run, frame),
      error: (e) => { wrong = e; wake(); },
    });
    decoder.addEventListener('dequeue', () => wake());
    try {
      decoder.configure(this.config);
      let window = { from: 0, bytes: new Uint8Array(0) };
      for (let at = run.from; at <= run.to && !run.stopped; at += 1) {
        const [byte, size, frame, key] = this.samples[at];
        // Some recorders write nothing where nothing changed.
        if (size === 0) continue;
        if (size > MOST_BYTES) throw new Error(`Frame ${frame} has more bytes than any picture.`);
        if (byte < window.from || byte + size > window.from + window.bytes.length) window = await this.#fetch(at, run.to);
        while (decoder.decodeQueueSize > QUEUED && !wrong && !run.stopped) {
          await new Promise((go) => { wake = () => go(null); });
        }
        if (wrong) throw wrong;
        if (run.stopped) break;
        const data = window.bytes.subarray(byte - window.from, byte - window.from + size);
        decoder.decode(new EncodedVideoChunk({ type: key || at === run.from ? 'key' : 'delta', timestamp: frame, data }));
      }
      if (!run.stopped) await decoder.flush();
      if (wrong) throw wrong;
    } finally {
      if (decoder.state !== 'closed') decoder.close();
    }
  }

  /** The bytes of sample `at` and of those behind it, as far as they fit.
   * @param {number} at @param {number} to */
  async #fetch(at, to) {
    const from = this.samples[at][0];
    let end = from + this.samples[at][1];
    for (let next = at + 1; next <= to; next += 1) {
      const [byte, size] = this.samples[next];
      if (byte < from || byte + size - from > FETCHED_BYTES) break;
      end = Math.max(end, byte + size);
    }
    const answer = await fetch(this.url, { headers: { Range: `bytes=${from}-${end - 1}` } });
    if (answer.status !== 206) {
      const said = await answer.json().catch(() => null);
      throw new Error(said?.trouble ?? 'The clip could not be read.');
    }
    const bytes = new Uint8Array(await answer.arrayBuffer());
    if (bytes.length !== end - from) throw new Error('The clip could not be read whole.');
    return { from, bytes };
  }

  /** @param {Run} run @param {VideoFrame} frame */
  #keep(run, frame) {
    const n = frame.timestamp;
    const awaited = this.#awaited.get(n);
    if (awaited || (n >= run.first && n <= run.last && !this.#kept.has(n))) {
      const picture = this.#upright(frame);
      this.#mostKept = Math.max(16, Math.min(400, Math.floor(KEPT_BYTES / (picture.width * picture.height * 4))));
      this.#kept.set(n, picture);
      while (this.#kept.size > this.#mostKept) {
        let farthest = n;
        for (const other of this.#kept.keys()) {
          if (Math.abs(other - this.#centre) > Math.abs(farthest - this.#centre)) farthest = other;
        }
        this.#kept.delete(farthest);
        if (farthest === n) break;
      }
      if (awaited) {
        this.#awaited.delete(n);
        awaited.resolve(picture);
      }
    }
    frame.close();
  }

  /** Mirrored, then turned clockwise, as the file says. @param {VideoFrame} frame */
  #upright(frame) {
    const { turn, mirrored } = this.orientation;
    const width = frame.visibleRect?.width ?? frame.codedWidth, height = frame.visibleRect?.height ?? frame.codedHeight;
    const across = turn % 180 !== 0;
    const picture = new OffscreenCanvas(across ? height : width, across ? width : height);
    const draw = /** @type {OffscreenCanvasRenderingContext2D} */ (picture.getContext('2d'));
    draw.translate(picture.width / 2, picture.height / 2);
    draw.rotate((turn * Math.PI) / 180);
    if (mirrored) draw.scale(-1, 1);
    draw.drawImage(frame, -width / 2, -height / 2, width, height);
    return picture;
  }
}
