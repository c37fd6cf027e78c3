import type { Page } from 'playwright-core';

/**
 * Counts the sounds that a page starts and the vibrations it asks for, and passes both on; the counts last over a change
 * of the page. Call it before the first page is opened. Returns a reader of either count.
 */
export async function countSoundAndVibration(page: Page): Promise<(what: 'sounds' | 'vibrations') => Promise<number>> {
  await page.addInitScript(() => {
    const count = (name: string): void =>
      sessionStorage.setItem(name, String(Number(sessionStorage.getItem(name)) + 1));
    // eslint-disable-next-line @typescript-eslint/unbound-method -- called below with its own node as `this`
    const { start } = AudioScheduledSourceNode.prototype;
    AudioScheduledSourceNode.prototype.start = function (when) {
      if (this.context.state === 'running') count('sounds');
      start.call(this, when);
    };
    const vibrate = navigator.vibrate.bind(navigator);
    navigator.vibrate = (pattern: VibratePattern | Iterable<number>) => {
      count('vibrations');
      return vibrate(pattern as number[]);
    };
  });
  return (what) => page.evaluate((key) => Number(sessionStorage.getItem(key)), what);
}
