import type { Page } from 'playwright-core';

/** What a job costs at a phone: fingers down, letters typed, digits of readings and amounts, pages opened. */
export interface Cost {
  readonly taps: number;
  readonly characters: number;
  readonly digits: number;
  readonly pages: number;
}

export interface Hands {
  /** A finger down: on a link, a button, a choice. */
  tap(selector: string): Promise<void>;
  /** Words typed; a box that has no focus yet costs the tap that gives it. */
  type(selector: string, text: string): Promise<void>;
  /** A reading or an amount: its digits are counted apart, since nobody can do without them. */
  read(selector: string, digits: string): Promise<void>;
  /** From a list that the device unfolds: one tap opens it, one picks. Nothing where it is picked already. */
  pick(selector: string, value: string): Promise<void>;
  cost(): Cost;
}

/** Counts while a job is done on a page that is open already. */
export function hands(page: Page): Hands {
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
    // A page that is still loading has not given its box the focus yet: nobody types before that.
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
      // A choice is drawn over its own radio, so the click is aimed at the place and not at the element.
      await page.locator(selector).first().click({ force: true });
    },
    type: async (selector, text) => {
      await focus(selector);
      cost.characters += text.length;
      await page.fill(selector, text);
    },
    read: async (selector, digits) => {
      await focus(selector);
      // A reading costs its digits only where the page left its box empty: what is filled in beforehand was not read.
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

/** A job with what it cost and what it may cost. */
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
