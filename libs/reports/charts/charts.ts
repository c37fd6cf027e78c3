import { createHash } from 'node:crypto';
import { createRequire } from 'node:module';
import { pathToFileURL } from 'node:url';
import { Worker } from 'node:worker_threads';
import type { ChartSpec } from './chart-style.js';
import { chartShapes, type ShapeName } from './chart-shape.js';
import { picturePlans, type PictureName, type PicturePlan } from './chart-plans.js';
import type { Picture, Pictures } from '../season/pictures.js';
import type { Season } from '../season/season.js';

/**
 * The season's pictures as SVG, drawn in a thread of their own that is started when first asked for and stops when
 * idle, for paper or for a window. Each picture of the same figures is kept: a sale changes one of seven. Rejects where
 * the thread fails.
 */
export const drawCharts = (season: Season, shape: ShapeName = 'paper'): Promise<Pictures> =>
  drawAll(picturePlans(season, chartShapes[shape]));

type Plans = Readonly<Record<PictureName, PicturePlan>>;

/** Stops the drawing thread at once; the next picture starts another. */
export async function closeCharts(): Promise<void> {
  const running = thread;
  thread = undefined;
  clearTimeout(idle);
  await running?.worker.terminate();
}

/** Seven pictures in three shapes of a few seasons. */
const mostKept = 84;
const idleMs = 30_000;
const drawn = new Map<string, Promise<string>>();

interface Waiting {
  readonly resolve: (svg: string) => void;
  readonly reject: (fault: Error) => void;
}
interface Thread {
  readonly worker: Worker;
  readonly waiting: Map<number, Waiting>;
}
let thread: Thread | undefined;
let idle: NodeJS.Timeout | undefined;
let asked = 0;

async function drawAll(plans: Plans): Promise<Pictures> {
  const picture = async ({ title, caption, spec }: PicturePlan): Promise<Picture> => ({
    title,
    caption,
    svg: await drawOnce(spec),
  });
  const [fillTemperatures, density, syrupByDay, sapToSyrup, pans, earlier, jarsByPlace] = await Promise.all([
    picture(plans.fillTemperatures),
    picture(plans.density),
    picture(plans.syrupByDay),
    picture(plans.sapToSyrup),
    picture(plans.panTemperature),
    picture(plans.besideEarlier),
    picture(plans.jarsByPlace),
  ]);
  return {
    ...{ fillTemperatures, density, syrupByDay, sapToSyrup },
    ...{ panTemperature: pans, besideEarlier: earlier, jarsByPlace },
  };
}

function drawOnce(spec: ChartSpec): Promise<string> {
  const key = createHash('sha256').update(JSON.stringify(spec)).digest('base64');
  const svg = drawn.get(key) ?? draw(spec);
  drawn.delete(key);
  drawn.set(key, svg);
  svg.catch(() => drawn.get(key) === svg && drawn.delete(key));
  const [oldest] = drawn.keys();
  if (drawn.size > mostKept && oldest !== undefined) drawn.delete(oldest);
  return svg;
}

function draw(spec: ChartSpec): Promise<string> {
  thread ??= startThread();
  const { worker, waiting } = thread;
  clearTimeout(idle);
  asked += 1;
  const id = asked;
  return new Promise((resolve, reject) => {
    waiting.set(id, { resolve, reject });
    worker.ref();
    worker.postMessage({ id, spec });
  });
}

function startThread(): Thread {
  const find = createRequire(import.meta.url);
  const address = (name: string): string => pathToFileURL(find.resolve(name)).href;
  const worker = new Worker(threadProgram, {
    eval: true,
    workerData: { vega: address('vega'), vegaLite: address('vega-lite') },
  });
  const started: Thread = { worker, waiting: new Map() };
  worker.on('message', (answer: { id: number; svg?: string; fault?: string }) => {
    const one = started.waiting.get(answer.id);
    started.waiting.delete(answer.id);
    if (answer.svg !== undefined) one?.resolve(answer.svg);
    else one?.reject(new Error(`A picture could not be drawn: ${answer.fault ?? 'no answer'}`));
    if (started.waiting.size === 0) rest(started);
  });
  const failAll = (fault: Error): void => {
    for (const one of started.waiting.values()) one.reject(fault);
    started.waiting.clear();
    if (thread === started) thread = undefined;
  };
  worker.on('error', failAll);
  worker.on('exit', () => failAll(new Error('The thread that draws pictures has stopped')));
  return started;
}

function rest(started: Thread): void {
  started.worker.unref();
  idle = setTimeout(() => void closeCharts(), idleMs);
  idle.unref();
}

/**
 * The program of the thread, as text because it must start the same way from sources and from the build. It needs no
 * file of its own but the two libraries, whose addresses it is given.
 */
const threadProgram = `
const { parentPort, workerData } = require('node:worker_threads');
const loaded = Promise.all([import(workerData.vega), import(workerData.vegaLite)]);
parentPort.on('message', async ({ id, spec }) => {
  try {
    const [vega, { compile }] = await loaded;
    const quiet = { level: () => quiet, error: () => quiet, warn: () => quiet, info: () => quiet, debug: () => quiet };
    const view = new vega.View(vega.parse(compile(spec, { logger: quiet }).spec), { renderer: 'none', logger: quiet });
    const svg = await view.toSVG();
    view.finalize();
    parentPort.postMessage({ id, svg });
  } catch (fault) {
    parentPort.postMessage({ id, fault: String(fault && fault.message || fault) });
  }
});
`;
