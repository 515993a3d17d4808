import {
  type Document,
  isMap,
  isNode,
  isScalar,
  isSeq,
  type Node,
  Pair,
  Scalar,
  type YAMLMap,
  type YAMLSeq,
} from 'yaml';
import { isMapping, sameContent } from './same-content.ts';

/**
 * Puts a value where a node stands, touching only what differs, so that comments, order and layout of the rest stay.
 * Returns the node to use, which is `node` itself wherever it can be kept.
 */
export function updatedNode(document: Document, node: unknown, value: unknown): Node {
  if (isNode(node) && sameContent(node.toJS(document), value)) return node;
  if (isMap(node) && isMapping(value)) return updatedMap(document, node, value);
  if (isSeq(node) && Array.isArray(value)) return updatedSeq(document, node, value);
  const fresh = freshNode(document, value);
  if (isNode(node)) {
    fresh.comment = node.comment;
    fresh.commentBefore = node.commentBefore;
    fresh.spaceBefore = node.spaceBefore;
    // A folded or quoted text stays folded or quoted; plain is left to the writer, which knows what needs quotes.
    if (
      isScalar(node) &&
      isScalar(fresh) &&
      typeof fresh.value === 'string' &&
      typeof node.value === 'string'
    ) {
      if (node.type && node.type !== Scalar.PLAIN) fresh.type = node.type;
    }
  }
  return fresh;
}

function updatedMap(document: Document, map: YAMLMap, value: Record<string, unknown>): YAMLMap {
  const nameOf = (pair: Pair): string => (isScalar(pair.key) ? String(pair.key.value) : '');
  map.items = map.items.filter(
    (pair) => Object.hasOwn(value, nameOf(pair)) && value[nameOf(pair)] !== undefined,
  );
  const present = new Map(map.items.map((pair) => [nameOf(pair), pair]));
  for (const [name, each] of Object.entries(value)) {
    if (each === undefined) continue;
    const pair = present.get(name);
    if (pair) pair.value = updatedNode(document, pair.value, each);
    else map.items.push(new Pair(document.createNode(name), freshNode(document, each)));
  }
  return map;
}

function updatedSeq(document: Document, seq: YAMLSeq, value: readonly unknown[]): YAMLSeq {
  const left = [...seq.items];
  const take = (matches: (node: unknown) => boolean): unknown => {
    const index = left.findIndex(matches);
    return index < 0 ? undefined : left.splice(index, 1)[0];
  };
  const contentOf = (node: unknown): unknown => (isNode(node) ? node.toJS(document) : node);
  // Same content first, so that inserting one entry does not shift comments; then same name; the rest is new.
  const kept = value.map((item) => take((node) => sameContent(contentOf(node), item)));
  seq.items = value.map((item, index) => {
    const name = nameOfItem(item);
    const node =
      kept[index] ?? (name === undefined ? undefined : take((each) => nameOfItem(contentOf(each)) === name));
    return node === undefined ? freshNode(document, item) : updatedNode(document, node, item);
  });
  return seq;
}

/** What names an entry of a list: its id, or the cause, code or words it is about. */
function nameOfItem(item: unknown): string | undefined {
  if (!isMapping(item)) return undefined;
  for (const field of ['id', 'cause', 'say', 'circuit', 'component', 'kind', 'code']) {
    const value = item[field];
    if (typeof value === 'string') return `${field} ${value}`;
  }
  return undefined;
}

/** A new node in the handbook's layout: short inner mappings and lists on one line. Never anchors. */
export function freshNode(document: Document, value: unknown): Node {
  const node = document.createNode(value, { aliasDuplicateObjects: false });
  layOut(node, value);
  return node;
}

const oneLine = 110;

function layOut(node: unknown, value: unknown): void {
  if (isMap(node) && isMapping(value)) {
    if (isFlat(value)) node.flow = true;
    for (const pair of node.items)
      layOut(pair.value, value[isScalar(pair.key) ? String(pair.key.value) : '']);
  } else if (isSeq(node) && Array.isArray(value)) {
    if (value.length === 0 || (value.every((item) => !isCollection(item)) && isFlat(value))) node.flow = true;
    node.items.forEach((item, index) => {
      layOut(item, value[index]);
    });
  }
}

const isCollection = (value: unknown): boolean => typeof value === 'object' && value !== null;

function isFlat(value: object): boolean {
  const parts = Object.values(value);
  const short = JSON.stringify(value).length <= oneLine;
  return (
    short &&
    parts.every(
      (part) => !isCollection(part) || (Array.isArray(part) && part.every((each) => !isCollection(each))),
    )
  );
}
