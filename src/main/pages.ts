import { readFile } from 'node:fs/promises';
import { extname, join, normalize, sep } from 'node:path';

const types: Readonly<Record<string, string>> = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.json': 'application/json',
  '.svg': 'image/svg+xml',
  '.png': 'image/png',
  '.ico': 'image/x-icon',
  '.woff2': 'font/woff2',
  '.woff': 'font/woff',
  '.webmanifest': 'application/manifest+json',
};

/** The same for every door: nothing from elsewhere, no inline scripts, no frames. */
export const pageHeaders: Readonly<Record<string, string>> = {
  'content-security-policy':
    "default-src 'none'; script-src 'self'; style-src 'self'; style-src-attr 'unsafe-inline'; img-src 'self' data: blob:; font-src 'self'; connect-src 'self'; frame-src 'self' blob:; object-src 'none'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'",
  'x-content-type-options': 'nosniff',
  'referrer-policy': 'no-referrer',
  'cross-origin-opener-policy': 'same-origin',
  'cross-origin-resource-policy': 'same-origin',
};

/** A compiled page or asset; an address without a file ending is a place inside the program and gets the page. */
export async function pageFor(folder: string, pathname: string): Promise<Response> {
  let path: string;
  try {
    path = decodeURIComponent(pathname);
  } catch {
    return new Response('Not found', { status: 404, headers: pageHeaders });
  }
  const wanted = extname(path) === '' ? 'index.html' : path;
  const file = normalize(join(folder, wanted));
  if (!file.startsWith(normalize(folder + sep)))
    return new Response('Not found', { status: 404, headers: pageHeaders });
  try {
    const bytes = await readFile(file);
    const isAsset = file.includes(`${sep}assets${sep}`);
    return new Response(new Uint8Array(bytes), {
      headers: {
        ...pageHeaders,
        'content-type': types[extname(file)] ?? 'application/octet-stream',
        'cache-control': isAsset ? 'public, max-age=31536000, immutable' : 'no-cache',
      },
    });
  } catch {
    return new Response('Not found', { status: 404, headers: pageHeaders });
  }
}
