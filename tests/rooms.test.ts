import { readdirSync, readFileSync, statSync } from 'node:fs';
import { dirname, join, relative, sep } from 'node:path';
import { describe, expect, it } from 'vitest';

/**
 * Walls between the rooms: the table in DEVELOPERS.md says what each may import, type imports included. Adding an import
 * that it does not allow fails here; the message says what to do instead.
 */
const root = join(import.meta.dirname, '..');

interface Rule {
  readonly rooms: readonly string[];
  readonly packages: readonly string[];
}

/** Reads the room table of DEVELOPERS.md: | room | rooms it may import | packages | */
function readRules(): Map<string, Rule> {
  const text = readFileSync(join(root, 'DEVELOPERS.md'), 'utf8');
  const table = /<!-- rooms -->([\s\S]*?)<!-- \/rooms -->/.exec(text)?.[1] ?? '';
  const rules = new Map<string, Rule>();
  for (const line of table.split('\n').slice(3)) {
    const cells = line.split('|').map((cell) => cell.trim());
    if (cells.length < 5) continue;
    const names = (cell: string): string[] =>
      [...cell.matchAll(/`([^`]+)`/g)].map((match) => match[1] as string);
    for (const room of names(cells[1] as string))
      rules.set(room, { rooms: names(cells[2] as string), packages: names(cells[3] as string) });
  }
  return rules;
}

function sourceFiles(folder: string): string[] {
  return readdirSync(folder, { recursive: true, encoding: 'utf8' })
    .map((name) => join(folder, name))
    .filter((file) => /\.tsx?$/.test(file) && statSync(file).isFile());
}

const importPattern =
  /(?:^|\n)\s*(?:import|export)\s[^'"`;]*?\bfrom\s*['"]([^'"]+)['"]|(?:^|\n)\s*import\s*['"]([^'"]+)['"]|\bimport\(\s*['"]([^'"]+)['"]\s*\)/g;

function importsOf(text: string): string[] {
  return [...text.matchAll(importPattern)].map((match) => match[1] ?? match[2] ?? match[3] ?? '');
}

const roomOf = (file: string): string => {
  const parts = relative(join(root, 'src'), file).split(sep);
  return parts.length === 1 ? (parts[0] as string) : (parts[0] as string);
};

const packageOf = (name: string): string =>
  name.startsWith('node:')
    ? 'node'
    : name.startsWith('@')
      ? name.split('/').slice(0, 2).join('/')
      : (name.split('/')[0] as string);

/** Files of `src` that everyone may import. */
const everywhere = ['terms.ts', 'problem.ts'];
/** `api` has three front doors: one for the doors of the program, two that may reach a browser. */
const apiDoors = { main: ['index.ts'], renderer: ['contract.ts', 'client.ts'] } as const;

function faultsOf(file: string, rules: Map<string, Rule>): string[] {
  const room = roomOf(file);
  const rule = rules.get(room);
  const where = relative(root, file).split(sep).join('/');
  if (!rule)
    return everywhere.includes(room)
      ? []
      : [`${where}: the room ${room} is not in the table of DEVELOPERS.md`];
  const faults: string[] = [];
  for (const name of importsOf(readFileSync(file, 'utf8'))) {
    if (/\.(css|svg|png|woff2?)$/.test(name)) continue;
    if (!name.startsWith('.')) {
      const pkg = packageOf(name);
      const isAllowed = rule.packages.some(
        (known) => known === pkg || (known.endsWith('*') && pkg.startsWith(known.slice(0, -1))),
      );
      if (!isAllowed)
        faults.push(
          `${where} imports the package ${name}; ${room} may use: ${rule.packages.join(', ') || 'none'}. Pass what it gives as an argument.`,
        );
      continue;
    }
    const target = join(dirname(file), name);
    if (target.startsWith(join(root, 'migrations'))) {
      if (!rule.rooms.includes('migrations'))
        faults.push(`${where} imports migrations; only the store runs them.`);
      continue;
    }
    const inside = relative(join(root, 'src'), target).split(sep);
    if (inside[0] === '..') {
      faults.push(`${where} imports ${name} from outside of src.`);
      continue;
    }
    if (inside.length === 1 || inside[0] === room) continue;
    const other = inside[0] as string;
    if (!rule.rooms.includes(other)) {
      faults.push(
        `${where} imports from ${other}/; ${room} may import: ${rule.rooms.join(', ') || 'no other room'}. Let the caller load it and hand it over.`,
      );
      continue;
    }
    const door = inside.slice(1).join('/');
    const allowed = other === 'api' ? (apiDoors[room as keyof typeof apiDoors] ?? []) : ['index.ts'];
    if (!(allowed as readonly string[]).includes(door))
      faults.push(`${where} goes past the front door of ${other}/ (${door}); use ${allowed.join(' or ')}.`);
  }
  return faults;
}

describe('walls between the rooms', () => {
  const rules = readRules();

  it('reads the table', () => {
    expect([...rules.keys()]).toContain('circuit');
    expect(rules.get('renderer')?.rooms).toEqual(['api']);
    expect(rules.get('book')?.rooms).toEqual([]);
  });

  it('finds imports of every form', () => {
    const text =
      "import type { A } from './a.ts';\nexport * from '../b/index.ts';\nimport 'c';\nconst d = await import('d');\nimport {\n  e,\n} from 'e';";
    expect(importsOf(text)).toEqual(['./a.ts', '../b/index.ts', 'c', 'd', 'e']);
  });

  it('holds for every file of src', () => {
    expect(sourceFiles(join(root, 'src')).flatMap((file) => faultsOf(file, rules))).toEqual([]);
  });

  it('keeps what reaches the browser free of drivers', () => {
    const allowed = new Set([
      'zod',
      '../terms.ts',
      '../../terms.ts',
      '../problem.ts',
      '../../problem.ts',
      '../book/index.ts',
      '../../book/index.ts',
    ]);
    const files = [
      join(root, 'src/api/contract.ts'),
      join(root, 'src/api/client.ts'),
      ...sourceFiles(join(root, 'src/api/contract')),
    ];
    const strangers = files.flatMap((file) =>
      importsOf(readFileSync(file, 'utf8')).filter(
        (name) =>
          !allowed.has(name) && !/^\.\/(contract\/)?[a-z-]+\.ts$/.test(name) && name !== './contract.ts',
      ),
    );
    expect(strangers).toEqual([]);
  });
});

describe('size and names', () => {
  const files = ['src', 'migrations', 'tests'].flatMap((folder) => sourceFiles(join(root, folder)));

  it('no file is longer than 400 lines', () => {
    const long = files
      .map((file) => [relative(root, file), readFileSync(file, 'utf8').split('\n').length - 1] as const)
      .filter(([, lines]) => lines > 400);
    expect(long).toEqual([]);
  });

  it('files are named in kebab-case, and no folder hides what it is', () => {
    const bad = files
      .map((file) => relative(root, file).split(sep))
      .filter(
        (parts) =>
          !/^[a-z0-9]+([.-][a-z0-9]+)*\.tsx?$/.test(parts.at(-1) as string) ||
          parts.some((part) => ['utils', 'helpers', 'common', 'shared', 'core'].includes(part)),
      )
      .map((parts) => parts.join('/'));
    expect(bad).toEqual([]);
  });
});
