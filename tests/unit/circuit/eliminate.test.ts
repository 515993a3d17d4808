/** Elimination against plain Gaussian elimination with partial pivoting, and where that one loses its digits. */
import { describe, expect, it } from 'vitest';
import {
  eliminate,
  minimumDegreeOrder,
  planElimination,
  substitute,
} from '../../../src/circuit/eliminate.ts';
import { dice } from '../../reference/circuit-random.ts';

type Link = readonly [a: number, b: number, siemens: number];

/** The textbook method, dense, rows swapped for the greatest pivot. */
function gauss(size: number, links: readonly Link[], currents: readonly number[]): number[] {
  const rows = Array.from({ length: size }, (_, k) => [...Array(size).fill(0), currents[k] as number]);
  const add = (i: number, j: number, g: number) => {
    const row = rows[i];
    if (row && j >= 0) row[j] += g;
  };
  for (const [a, b, g] of links) {
    add(a, a, g);
    add(b, b, g);
    if (a >= 0 && b >= 0) {
      add(a, b, -g);
      add(b, a, -g);
    }
  }
  const at = (i: number, j: number) => rows[i]?.[j] as number;
  for (let k = 0; k < size; k++) {
    let best = k;
    for (let i = k; i < size; i++) if (Math.abs(at(i, k)) > Math.abs(at(best, k))) best = i;
    [rows[k], rows[best]] = [rows[best] as number[], rows[k] as number[]];
    for (let i = k + 1; i < size; i++) {
      const factor = at(i, k) / at(k, k);
      for (let j = k; j <= size; j++) (rows[i] as number[])[j] = at(i, j) - factor * at(k, j);
    }
  }
  const volts = Array(size).fill(0);
  for (let k = size - 1; k >= 0; k--) {
    let sum = at(k, size);
    for (let j = k + 1; j < size; j++) sum -= at(k, j) * volts[j];
    volts[k] = sum / at(k, k);
  }
  return volts;
}

function ours(size: number, links: readonly Link[], currents: readonly number[]) {
  const order = minimumDegreeOrder(
    size,
    links.map(([a, b]) => [a, b] as const),
  );
  const place = (node: number) => (node < 0 ? -1 : order.indexOf(node));
  const plan = planElimination(
    size,
    links.map(([a, b]) => [place(a), place(b)] as const),
  );
  const between = plan.entryZeros.slice();
  const toGround = plan.nodeZeros.slice();
  for (const [a, b, g] of links) {
    const entry = plan.entryOf(place(a), place(b));
    if (entry >= 0) between[entry] = (between[entry] as number) + g;
    else toGround[place(Math.max(a, b))] = (toGround[place(Math.max(a, b))] as number) + g;
  }
  const factor = eliminate(plan, between, toGround);
  const injected = order.map((node) => currents[node] as number);
  const volts = substitute(factor, injected, plan.nodeZeros.slice());
  return {
    volts: Array.from({ length: size }, (_, node) => volts[place(node)] as number),
    island: Array.from({ length: size }, (_, node) => factor.island[place(node)] as number),
  };
}

describe('elimination', () => {
  it('agrees with Gaussian elimination on random networks (seed 11)', () => {
    const roll = dice(11);
    for (let round = 0; round < 200; round++) {
      const size = 2 + Math.floor(roll() * 14);
      const links: Link[] = Array.from({ length: size }, (_, k) => [
        k,
        k === 0 ? -1 : Math.floor(roll() * k),
        0.01 + roll(),
      ]);
      for (let k = 0; k < size; k++) {
        const a = Math.floor(roll() * size);
        const b = Math.floor(roll() * (size + 1)) - 1;
        if (a !== b) links.push([a, b, 0.01 + 10 * roll()]);
      }
      const currents = Array.from({ length: size }, () => roll() - 0.5);
      const wanted = gauss(size, links, currents);
      for (const [k, v] of ours(size, links, currents).volts.entries())
        expect(v).toBeCloseTo(wanted[k] as number, 9);
    }
  });

  it('keeps all digits where conductances differ by 10^16, and Gaussian elimination keeps none', () => {
    // Two nodes joined by 1e8 S hang on ground by 1e-8 S; 1 A goes in: 1e8 V, to the last digit.
    const links: Link[] = [
      [0, 1, 1e8],
      [1, 2, 1e8],
      [2, -1, 1e-8],
    ];
    const { volts } = ours(3, links, [1e-8, 0, 0]);
    for (const v of volts) expect(Math.abs(v - 1)).toBeLessThan(1e-14);
    const lost = gauss(3, links, [1e-8, 0, 0]).map((v) => Math.abs(v - 1));
    expect(Math.max(...lost.map((error) => (Number.isFinite(error) ? error : 1)))).toBeGreaterThan(1e-3);
  });

  it('names islands exactly', () => {
    const { island } = ours(
      6,
      [
        [0, -1, 1],
        [0, 1, 1e-9],
        [2, 3, 5],
        [3, 4, 5],
        [2, 4, 5],
      ],
      [0, 0, 0, 0, 0, 0],
    );
    expect(island[0]).toBe(0);
    expect(island[1]).toBe(0);
    expect(island[2]).toBeGreaterThan(0);
    expect(new Set(island.slice(2, 5)).size).toBe(1);
    expect(island[5]).not.toBe(island[2]);
    expect(island[5]).toBeGreaterThan(0);
  });
});
