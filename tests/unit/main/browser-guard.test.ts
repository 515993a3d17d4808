import { describe, expect, it } from 'vitest';
import { createGuard } from '../../../src/main/browser-guard.ts';

const origin = 'http://127.0.0.1:4100';

function guarded() {
  let ms = 0;
  const guard = createGuard(origin, () => ms);
  const ask = (path: string, init: RequestInit & { headers?: Record<string, string> } = {}) =>
    guard.check(
      new Request(`${origin}${path}`, { ...init, headers: { host: '127.0.0.1:4100', ...init.headers } }),
    );
  const signIn = (): string => {
    const answer = ask(`/?code=${guard.newCode()}`);
    return (answer?.headers.get('set-cookie') ?? '').split(';')[0] ?? '';
  };
  return { guard, ask, signIn, pass: (by: number) => (ms += by) };
}

describe('the browser door', () => {
  it('exchanges a code once for a cookie and takes it out of the address', () => {
    const { guard, ask } = guarded();
    const code = guard.newCode();
    const first = ask(`/bench/7?code=${code}&tab=2`);
    expect(first?.status).toBe(303);
    expect(first?.headers.get('location')).toBe('/bench/7?tab=2');
    expect(first?.headers.get('set-cookie')).toMatch(/HttpOnly; SameSite=Strict/);
    expect(ask(`/?code=${code}`)?.status).toBe(401);
  });

  it('lets a signed-in window through, and nobody else', () => {
    const { ask, signIn } = guarded();
    const cookie = signIn();
    expect(ask('/', { headers: { cookie } })).toBeNull();
    expect(ask('/')?.status).toBe(401);
    expect(ask('/', { headers: { cookie: 'bench_tally=guess' } })?.status).toBe(401);
  });

  it('wants exactly its own host and origin, and an origin on every write', () => {
    const { ask, signIn } = guarded();
    const cookie = signIn();
    const write = (headers: Record<string, string>) =>
      ask('/api/jobs.open', { method: 'POST', headers: { cookie, ...headers } });
    expect(write({ origin })).toBeNull();
    expect(write({})?.status).toBe(403);
    expect(write({ origin: 'http://127.0.0.1:4100.evil.example' })?.status).toBe(403);
    expect(write({ origin: 'null' })?.status).toBe(403);
    expect(write({ origin, host: 'rebound.example:4100' })?.status).toBe(403);
    expect(ask('/', { headers: { cookie, origin: 'http://other.example' } })?.status).toBe(403);
  });

  it('forgets a code after ten minutes, but not the one in the note of the data folder', () => {
    const { guard, ask, pass } = guarded();
    const code = guard.newCode();
    const next: string[] = [];
    const standing = guard.standingCode((fresh) => next.push(fresh));
    pass(11 * 60_000);
    expect(ask(`/?code=${code}`)?.status).toBe(401);
    expect(ask(`/?code=${standing}`)?.status).toBe(303);
    expect(next).toHaveLength(1);
    expect(ask(`/?code=${standing}`)?.status).toBe(401);
    expect(ask(`/?code=${next[0]}`)?.status).toBe(303);
  });
});
