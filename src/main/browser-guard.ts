import { randomBytes, timingSafeEqual } from 'node:crypto';
import { Problem } from '../problem.ts';

/**
 * Keeps strangers out of the browser door. The opened address carries a one-use code, exchanged for a cookie and removed
 * from the address; Host and Origin must be exactly this server's; a write without an Origin is refused.
 */
export interface Guard {
  /** A new one-use code, for the address that is printed or opened; it lives ten minutes. */
  newCode(): string;
  /**
   * A one-use code that lives as long as the program, for the note in the data folder; `renewed` is told the next one as
   * soon as one was used.
   */
  standingCode(renewed: (code: string) => void): string;
  /** Null when the request may pass, else the answer to give. */
  check(request: Request): Response | null;
}

const cookieName = 'bench_tally';
const codeLifeMs = 10 * 60_000;

const same = (a: string, b: string): boolean => {
  const left = Buffer.from(a);
  const right = Buffer.from(b);
  return left.length === right.length && timingSafeEqual(left, right);
};

const refuse = (problem: Problem): Response =>
  Response.json(problem.report(), { status: problem.status, headers: { 'cache-control': 'no-store' } });

function cookieOf(request: Request): string {
  for (const pair of (request.headers.get('cookie') ?? '').split(';')) {
    const [name, value] = pair.trim().split('=');
    if (name === cookieName) return value ?? '';
  }
  return '';
}

/**
 * @param origin for example http://127.0.0.1:4100
 * @param clock milliseconds, for the life of a code
 */
export function createGuard(origin: string, clock: () => number): Guard {
  const key = randomBytes(32).toString('base64url');
  const codes = new Map<string, { readonly until: number; readonly used: () => void }>();
  const host = new URL(origin).host;

  const redeem = (code: string): boolean => {
    for (const [known, { until, used }] of codes) {
      if (until < clock()) codes.delete(known);
      else if (same(known, code)) {
        codes.delete(known);
        used();
        return true;
      }
    }
    return false;
  };

  const issue = (until: number, used: () => void): string => {
    const code = randomBytes(18).toString('base64url');
    codes.set(code, { until, used });
    return code;
  };

  const standing = (renewed: (code: string) => void): string =>
    issue(Number.POSITIVE_INFINITY, () => renewed(standing(renewed)));

  return {
    newCode: () => issue(clock() + codeLifeMs, () => undefined),
    standingCode: standing,
    check(request) {
      const url = new URL(request.url);
      if (request.headers.get('host') !== host) return refuse(new Problem('wrong-origin'));
      const from = request.headers.get('origin');
      const isRead = request.method === 'GET' || request.method === 'HEAD';
      if (from !== null ? from !== origin : !isRead) return refuse(new Problem('wrong-origin'));
      const code = url.searchParams.get('code');
      if (isRead && code !== null) {
        if (!redeem(code)) return refuse(new Problem('not-signed-in'));
        url.searchParams.delete('code');
        return new Response(null, {
          status: 303,
          headers: {
            location: `${url.pathname}${url.search}`,
            'set-cookie': `${cookieName}=${key}; HttpOnly; SameSite=Strict; Path=/`,
            'cache-control': 'no-store',
            'referrer-policy': 'no-referrer',
          },
        });
      }
      if (same(cookieOf(request), key)) return null;
      const problem = new Problem('not-signed-in');
      if (!isRead || url.pathname.startsWith('/api/')) return refuse(problem);
      return new Response(`${problem.message}\n${problem.report().next}\n`, {
        status: problem.status,
        headers: { 'content-type': 'text/plain; charset=utf-8', 'cache-control': 'no-store' },
      });
    },
  };
}
