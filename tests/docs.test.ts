import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';

/** What the two documents name must exist. */
const root = join(import.meta.dirname, '..');
const read = (name: string): string => readFileSync(join(root, name), 'utf8');
const scripts = Object.keys(
  (JSON.parse(read('package.json')) as { scripts: Record<string, string> }).scripts,
);

describe.each(['README.md', 'DEVELOPERS.md'])('%s', (name) => {
  const text = read(name);

  it('names only paths that exist', () => {
    const paths = [...text.matchAll(/`((?:src|tests|migrations|seed|build|\.ci)\/[^`\s<>*]*)`/g)].map(
      (match) => match[1] as string,
    );
    const links = [...text.matchAll(/\]\((?!https?:)([^)#\s]+)\)/g)].map((match) => match[1] as string);
    expect([...paths, ...links].filter((path) => !existsSync(join(root, path)))).toEqual([]);
  });

  it('names only commands that exist', () => {
    const runs = [...text.matchAll(/npm run (?:--silent )?([a-z:]+)/g)].map((match) => match[1] as string);
    expect(runs.filter((run) => !scripts.includes(run))).toEqual([]);
  });
});

it('the README has its two commands', () => {
  expect(read('README.md')).toContain('npm ci && npm start');
  expect(read('README.md')).toContain('npm ci && npm test');
});

it('the test of the continuous integration is the one of the README', () => {
  expect(read('.ci/run')).toContain('npm ci && npm test');
});
