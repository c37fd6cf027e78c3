import type { Page } from 'playwright-core';

/** The effort of a job on a phone: taps, letters typed, digits of readings and amounts, pages opened. */
export interface Cost {
  readonly taps: number;
  readonly characters: number;
  readonly digits: number;
  readonly pages: number;
}

export interface TapCounter {
  /** A tap: on a link, a button, a choice. */
  tap(selector: string): Promise<void>;
  /** Typed text; a box without focus costs one tap more. */
  type(selector: string, text: string): Promise<void>;
  /** A reading or an amount: its digits are counted separately, since they can't be avoided. */
  read(selector: string, digits: string): Promise<void>;
  /** From a list that the device unfolds: one tap opens it, one picks. Free if it is already picked. */
  pick(selector: string, value: string): Promise<void>;
  cost(): Cost;
}

/** Counts the effort of a job that is done on an open page through the returned functions. */
export function countTaps(page: Page): TapCounter {
  const cost = { taps: 0, characters: 0, digits: 0, pages: 0 };
  page.on('framenavigated', (frame) => {
    if (frame === page.mainFrame()) cost.pages++;
  });
  const open = async (selector: string): Promise<void> => {
    await page.locator(selector).first().waitFor({ state: 'attached' });
    if (await page.locator(selector).first().isVisible()) return;
    const folded = page.locator('details:not([open])').filter({ has: page.locator(selector) });
    if ((await folded.count()) === 0) return;
    cost.taps++;
    await folded.first().locator('summary').first().click();
  };
  const focus = async (selector: string): Promise<void> => {
    await open(selector);
    const box = page.locator(selector).first();
    await box.waitFor();
    // A page that is still loading has not focused its box yet: nobody types before that.
    await page.waitForLoadState('load');
    await page.evaluate(() => new Promise((resolve) => requestAnimationFrame(() => setTimeout(resolve))));
    if (await box.evaluate((element) => element === document.activeElement)) return;
    cost.taps++;
    await box.click();
  };
  return {
    tap: async (selector) => {
      await open(selector);
      cost.taps++;
      // A choice covers its own radio button, so the click is aimed at the position and not at the element.
      await page.locator(selector).first().click({ force: true });
    },
    type: async (selector, text) => {
      await focus(selector);
      cost.characters += text.length;
      await page.fill(selector, text);
    },
    read: async (selector, digits) => {
      await focus(selector);
      // A reading costs its digits only where the page left its box empty: a value that was filled in was not read.
      const filled = await page.inputValue(selector);
      if (filled !== '') throw new Error(`${selector} was filled in beforehand: ${filled}`);
      cost.digits += digits.length;
      await page.fill(selector, digits);
    },
    pick: async (selector, value) => {
      await open(selector);
      const box = page.locator(selector).first();
      if ((await box.inputValue()) === value) return;
      cost.taps += 2;
      await box.selectOption(value);
    },
    cost: () => ({ ...cost }),
  };
}

/** A job with its cost and its limit. */
export interface JobCost {
  readonly job: string;
  readonly cost: Cost;
  readonly goal: string;
}

/** The jobs as a table for the terminal. */
export function costTable(costs: readonly JobCost[]): string {
  const rows = costs.map(
    ({ job, cost, goal }) =>
      `${job.padEnd(34)}${[cost.taps, cost.characters, cost.digits, cost.pages].map((n) => String(n).padStart(8)).join('')}   ${goal}`,
  );
  return `\n${'job'.padEnd(34)}    taps letters  digits   pages   goal\n${rows.join('\n')}\n`;
}
