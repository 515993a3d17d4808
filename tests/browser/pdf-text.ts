import { inflateSync } from 'node:zlib';

/**
 * The text of a PDF file that embeds subsets of its fonts, as a reader of the file gets it: the strings of each content
 * stream, turned back into letters by the ToUnicode map of the font in use (ISO 32000-1, 9.10.3). Only what this
 * program's own files use: one object each, streams that are deflated, maps with ranges of lists.
 */
export function pdfText(bytes: Buffer): string {
  const raw = bytes.toString('latin1');
  const objects = new Map<string, string>();
  for (const match of raw.matchAll(/(\d+) 0 obj\n([\s\S]*?)\nendobj/g))
    objects.set(match[1] as string, match[2] as string);
  const streamOf = (object: string): string => {
    const match = /stream\n([\s\S]*)\nendstream/.exec(object);
    return match ? inflateSync(Buffer.from(match[1] as string, 'latin1')).toString('latin1') : '';
  };
  const maps = new Map<string, Map<string, string>>();
  for (const object of objects.values())
    for (const [, name, id] of object.matchAll(/\/(F\d+) (\d+) 0 R/g)) {
      const unicode = /\/ToUnicode (\d+) 0 R/.exec(objects.get(id as string) ?? '')?.[1];
      if (unicode !== undefined) maps.set(name as string, readMap(streamOf(objects.get(unicode) ?? '')));
    }
  const lines: string[] = [];
  for (const object of objects.values()) {
    if (!/\/Filter \/FlateDecode/.test(object) || /\/Subtype|\/Length1/.test(object)) continue;
    let content: string;
    try {
      content = streamOf(object);
    } catch {
      continue;
    }
    let map = new Map<string, string>();
    for (const [, font, strings] of content.matchAll(/\/(F\d+) [\d.]+ Tf|\[([^\]]*)\] TJ/g)) {
      if (font !== undefined) map = maps.get(font) ?? new Map();
      else
        lines.push(
          [...(strings as string).matchAll(/<([0-9a-f]*)>/g)]
            .flatMap(([, hex]) => (hex as string).match(/.{4}/g) ?? [])
            .map((code) => map.get(code) ?? '')
            .join(''),
        );
    }
  }
  return lines.join('\n');
}

function readMap(text: string): Map<string, string> {
  const map = new Map<string, string>();
  for (const [, from, , list] of text.matchAll(/<([0-9a-f]{4})> <([0-9a-f]{4})> \[([^\]]*)\]/g)) {
    let code = Number.parseInt(from as string, 16);
    for (const [, hex] of (list as string).matchAll(/<([0-9a-f]+)>/g)) {
      map.set(
        code.toString(16).padStart(4, '0'),
        Buffer.from(hex as string, 'hex')
          .swap16()
          .toString('utf16le'),
      );
      code += 1;
    }
  }
  return map;
}
