import type { Page } from 'playwright-core';

/** Sends a procedure as the page does. */
export const callOn = (page: Page, name: string, input: object): Promise<Record<string, unknown>> =>
  page.evaluate(
    async ([to, body]) => {
      const answer = await fetch(`/api/${to}`, {
        method: 'POST',
        headers: { 'content-type': 'application/json' },
        body: body as string,
      });
      if (!answer.ok) throw new Error(await answer.text());
      return (await answer.json()) as Record<string, unknown>;
    },
    [name, JSON.stringify(input)],
  );
