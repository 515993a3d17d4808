/**
 * Solves the node equations of a resistor network by eliminating one node after the other (star-mesh
 * transformation): node k with conductances g_kj to its neighbors (ground included) is replaced by
 * conductances g_ki · g_kj / Σ g_k between them. For the matrix of such a network this is Gaussian
 * elimination, and it is written without a single subtraction (Grassmann, Taksar and Heyman 1985; Alfa, Xue
 * and Ye 2002): every conductance keeps its full relative precision, a 10 MΩ meter beside a 3 mΩ cable too,
 * and a node whose sum comes out as 0 is cut off from ground exactly, not to within a rounding error. Any
 * order of pivots is stable, so the order is free to be the one that fills in least (minimum degree).
 */

/** Where every conductance of the elimination lives, for one set of node pairs. Nodes are numbered in elimination order. */
export interface EliminationPlan {
  readonly size: number;
  /** Entries of pivot k: first[k] to first[k+1]. */
  readonly first: Int32Array;
  /** The neighbor of an entry, always eliminated later. */
  readonly neighbor: Int32Array;
  readonly firstPair: Int32Array;
  readonly pairA: Int32Array;
  readonly pairB: Int32Array;
  readonly pairTarget: Int32Array;
  /** Zeros for every node and every entry, to be sliced: see doubles. */
  readonly nodeZeros: readonly number[];
  readonly entryZeros: readonly number[];
  /** Entry of a pair of nodes, or -1 when the plan lacks it. */
  entryOf(a: number, b: number): number;
}

/** Order in which the nodes are eliminated: always one with the fewest neighbors left. */
export function minimumDegreeOrder(size: number, pairs: readonly (readonly [number, number])[]): number[] {
  const neighbors = adjacency(size, pairs);
  const left = new Set(neighbors.keys());
  const order: number[] = [];
  while (left.size > 0) {
    let best = -1;
    let bestDegree = Number.POSITIVE_INFINITY;
    for (const node of left) {
      const degree = neighbors[node]?.size ?? 0;
      if (degree < bestDegree) {
        best = node;
        bestDegree = degree;
        if (degree <= 1) break;
      }
    }
    order.push(best);
    left.delete(best);
    connectNeighbors(neighbors, best);
  }
  return order;
}

function adjacency(size: number, pairs: readonly (readonly [number, number])[]): Set<number>[] {
  const neighbors = Array.from({ length: size }, () => new Set<number>());
  for (const [a, b] of pairs) {
    if (a === b || a < 0 || b < 0) continue;
    neighbors[a]?.add(b);
    neighbors[b]?.add(a);
  }
  return neighbors;
}

/** Takes a node out and joins its neighbors to each other. */
function connectNeighbors(neighbors: readonly Set<number>[], node: number): number[] {
  const around = [...(neighbors[node] ?? [])];
  for (const a of around) {
    const own = neighbors[a];
    own?.delete(node);
    for (const b of around) if (a !== b) own?.add(b);
  }
  return around;
}

/** `pairs` in elimination order numbering; ground is -1 and needs no entry. */
export function planElimination(
  size: number,
  pairs: readonly (readonly [number, number])[],
): EliminationPlan {
  const neighbors = adjacency(size, pairs);
  const first = new Int32Array(size + 1);
  const neighbor: number[] = [];
  const entries = new Map<number, number>();
  for (let k = 0; k < size; k++) {
    first[k] = neighbor.length;
    for (const j of connectNeighbors(neighbors, k).sort((a, b) => a - b)) {
      entries.set(k * size + j, neighbor.length);
      neighbor.push(j);
    }
  }
  first[size] = neighbor.length;
  const entryOf = (a: number, b: number) =>
    a < 0 || b < 0 || a === b ? -1 : (entries.get(Math.min(a, b) * size + Math.max(a, b)) ?? -1);

  const firstPair = new Int32Array(size + 1);
  const pairA: number[] = [];
  const pairB: number[] = [];
  const pairTarget: number[] = [];
  for (let k = 0; k < size; k++) {
    firstPair[k] = pairA.length;
    const end = first[k + 1] ?? 0;
    for (let a = first[k] ?? 0; a < end; a++) {
      for (let b = a + 1; b < end; b++) {
        pairA.push(a);
        pairB.push(b);
        pairTarget.push(entryOf(neighbor[a] ?? -1, neighbor[b] ?? -1));
      }
    }
  }
  firstPair[size] = pairA.length;
  return {
    size,
    first,
    neighbor: Int32Array.from(neighbor),
    firstPair,
    pairA: Int32Array.from(pairA),
    pairB: Int32Array.from(pairB),
    pairTarget: Int32Array.from(pairTarget),
    nodeZeros: doubles(size),
    entryZeros: doubles(neighbor.length),
    entryOf,
  };
}

export interface Factor {
  readonly plan: EliminationPlan;
  /** Share of a pivot's injected current that goes to each neighbor. */
  readonly ratio: readonly number[];
  /** Sum of the conductances at the pivot; 0 marks the last node of an island without ground. */
  readonly total: readonly number[];
  /** Island of each node: 0 is ground's, others are named by their last node + 1. */
  readonly island: readonly number[];
}

/**
 * An array of zeros that the engine stores as packed doubles and copies in one piece. A typed array of more than
 * eight doubles lives outside the heap: thousands of small ones in a table cost more than the arithmetic.
 */
function doubles(length: number): number[] {
  const packed = Array.from({ length }, () => 0.5);
  for (let k = 0; k < length; k++) packed[k] = 0;
  return packed;
}

/**
 * Eliminates in place. `between` holds the conductance of each entry in siemens, `toGround` that of each node
 * to ground; both are used up.
 */
export function eliminate(plan: EliminationPlan, between: number[], toGround: number[]): Factor {
  const { size, first, neighbor, firstPair, pairA, pairB, pairTarget } = plan;
  const ratio = plan.entryZeros.slice();
  const total = plan.nodeZeros.slice();
  const island: number[] = new Array(size).fill(0);
  // The `as number` below: every index comes from the plan, which was built for arrays of these lengths.
  for (let k = 0; k < size; k++) {
    const start = first[k] as number;
    const end = first[k + 1] as number;
    const ground = toGround[k] as number;
    let sum = ground;
    for (let e = start; e < end; e++) sum += between[e] as number;
    total[k] = sum;
    if (sum === 0) continue;
    for (let e = start; e < end; e++) {
      const share = (between[e] as number) / sum;
      ratio[e] = share;
      if (ground !== 0 && share !== 0) {
        const j = neighbor[e] as number;
        toGround[j] = (toGround[j] as number) + share * ground;
      }
    }
    const lastPair = firstPair[k + 1] as number;
    for (let p = firstPair[k] as number; p < lastPair; p++) {
      const share = ratio[pairA[p] as number] as number;
      if (share === 0) continue;
      const target = pairTarget[p] as number;
      between[target] = (between[target] as number) + share * (between[pairB[p] as number] as number);
    }
  }
  for (let k = size - 1; k >= 0; k--) {
    if ((toGround[k] as number) > 0) continue;
    island[k] = k + 1;
    const end = first[k + 1] as number;
    for (let e = first[k] as number; e < end; e++) {
      if ((ratio[e] as number) > 0) {
        island[k] = island[neighbor[e] as number] as number;
        break;
      }
    }
  }
  return { plan, ratio, total, island };
}

/**
 * Node voltages for injected currents (amperes into each node). The last node of an island without ground is
 * its own reference, 0 V. `currents` is used up.
 */
export function substitute(factor: Factor, currents: number[], volts: number[]): number[] {
  const { plan, ratio, total } = factor;
  const { size, first, neighbor } = plan;
  for (let k = 0; k < size; k++) {
    const current = currents[k] as number;
    if (current === 0) continue;
    const end = first[k + 1] as number;
    for (let e = first[k] as number; e < end; e++) {
      const j = neighbor[e] as number;
      currents[j] = (currents[j] as number) + (ratio[e] as number) * current;
    }
  }
  for (let k = size - 1; k >= 0; k--) {
    const sum = total[k] as number;
    if (sum === 0) {
      volts[k] = 0;
      continue;
    }
    let v = (currents[k] as number) / sum;
    const end = first[k + 1] as number;
    for (let e = first[k] as number; e < end; e++)
      v += (ratio[e] as number) * (volts[neighbor[e] as number] as number);
    volts[k] = v;
  }
  return volts;
}

/**
 * Ohms the network shows between two nodes of one island (-1: ground). With the matrix factored as L·D·Lᵀ this is
 * |D^-½ L⁻¹ (e_a − e_b)|², so that only the way from the two nodes to the end of the elimination is walked.
 * `scratch` holds zeros before and after.
 */
export function resistanceBetween(factor: Factor, a: number, b: number, scratch: number[]): number {
  if (a === b) return 0;
  const { plan, ratio, total } = factor;
  const { size, first, neighbor } = plan;
  if (a >= 0) scratch[a] = 1;
  if (b >= 0) scratch[b] = -1;
  let ohms = 0;
  for (let k = a < 0 ? b : b < 0 ? a : Math.min(a, b); k < size; k++) {
    const current = scratch[k] as number;
    if (current === 0) continue;
    scratch[k] = 0;
    const sum = total[k] as number;
    // The last node of an island without ground: what went in has come out.
    if (sum === 0) continue;
    ohms += (current * current) / sum;
    const end = first[k + 1] as number;
    for (let e = first[k] as number; e < end; e++) {
      const j = neighbor[e] as number;
      scratch[j] = (scratch[j] as number) + (ratio[e] as number) * current;
    }
  }
  return ohms;
}
