import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { type Browser, chromium, type Page } from 'playwright-core';
import { expect } from 'vitest';

/** Chromium of the system, without anything of its own that speaks to the network. */
export function openBrowser(): Promise<Browser> {
  return chromium.launch({
    executablePath: '/usr/bin/chromium',
    args: [
      '--no-sandbox',
      '--no-first-run',
      '--disable-background-networking',
      '--disable-component-update',
      '--disable-sync',
      // Software drawing, so that solids are seen on a machine without a graphics card.
      '--use-gl=angle',
      '--use-angle=swiftshader',
      '--enable-unsafe-swiftshader',
    ],
  });
}

export interface Watched {
  readonly page: Page;
  /** Requests that went elsewhere than to the page's own address. */
  readonly elsewhere: string[];
  /** Errors of scripts, and what the content security policy refused. */
  readonly errors: string[];
}

/** A page whose requests and errors are kept. */
export async function watchedPage(
  browser: Browser,
  options: Parameters<Browser['newPage']>[0] = {},
): Promise<Watched> {
  const page = await browser.newPage(options);
  const elsewhere: string[] = [];
  const errors: string[] = [];
  page.on('request', (request) => {
    const { protocol, host } = new URL(request.url());
    const own = page.url() === 'about:blank' ? '127.0.0.1' : new URL(page.url()).host;
    if (protocol !== 'blob:' && !host.startsWith('127.0.0.1') && host !== own) {
      elsewhere.push(request.url());
    }
  });
  page.on('pageerror', (error) => errors.push(error.message));
  page.on('console', (message) => {
    if (message.type() === 'error') errors.push(message.text());
  });
  return { page, elsewhere, errors };
}

const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

/** Looks at the page with axe-core for WCAG 2.2 AA. @source WCAG 2.2, by the rules of axe-core. */
export async function expectAccessible(page: Page): Promise<void> {
  await page.evaluate(axe);
  const found = await page.evaluate(async () => {
    const { axe: engine } = globalThis as unknown as {
      axe: {
        run: (
          options: object,
        ) => Promise<{ violations: { id: string; nodes: { html: string }[] }[] }>;
      };
    };
    const { violations } = await engine.run({
      runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'],
    });
    return violations.map(
      ({ id, nodes }) =>
        `${id}: ${nodes
          .slice(0, 3)
          .map((n) => n.html.slice(0, 160))
          .join(' | ')}`,
    );
  });
  expect(found).toEqual([]);
}
