// Draws the program's icons from build/icon.svg: PNG for Linux, ICO for Windows, ICNS for macOS (both are containers of
// PNG pictures). Run by hand when the drawing changes: npm run icons
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import chromium from '@sparticuz/chromium';
import { chromium as browserType } from 'playwright-core';

const folder = fileURLToPath(new URL('..', import.meta.url));
const svg = readFileSync(join(folder, 'icon.svg'), 'utf8');
const browser = await browserType.launch({
  executablePath: process.env.CHROME_PATH ?? (await chromium.executablePath()),
  args: chromium.args.filter((arg) => arg !== '--single-process' && arg !== '--no-zygote'),
});

async function picture(size) {
  const page = await browser.newPage({ viewport: { width: size, height: size } });
  await page.setContent(
    `<style>body{margin:0;background:transparent}svg{display:block;width:${size}px;height:${size}px}</style>${svg}`,
  );
  const png = await page.screenshot({ omitBackground: true });
  await page.close();
  return png;
}

const png = new Map();
for (const size of [16, 24, 32, 48, 64, 128, 256, 512, 1024]) png.set(size, await picture(size));
await browser.close();

/** ICO: a directory of PNG pictures; 0 stands for 256. */
function ico(sizes) {
  const head = Buffer.alloc(6 + 16 * sizes.length);
  head.writeUInt16LE(1, 2);
  head.writeUInt16LE(sizes.length, 4);
  let offset = head.length;
  sizes.forEach((size, place) => {
    const at = 6 + 16 * place;
    head.writeUInt8(size % 256, at);
    head.writeUInt8(size % 256, at + 1);
    head.writeUInt16LE(1, at + 4);
    head.writeUInt16LE(32, at + 6);
    head.writeUInt32LE(png.get(size).length, at + 8);
    head.writeUInt32LE(offset, at + 12);
    offset += png.get(size).length;
  });
  return Buffer.concat([head, ...sizes.map((size) => png.get(size))]);
}

/** ICNS: typed blocks of PNG pictures. */
function icns(types) {
  const blocks = types.map(([type, size]) => {
    const head = Buffer.alloc(8);
    head.write(type, 0, 'latin1');
    head.writeUInt32BE(8 + png.get(size).length, 4);
    return Buffer.concat([head, png.get(size)]);
  });
  const body = Buffer.concat(blocks);
  const head = Buffer.alloc(8);
  head.write('icns', 0, 'latin1');
  head.writeUInt32BE(8 + body.length, 4);
  return Buffer.concat([head, body]);
}

writeFileSync(join(folder, 'icon.png'), png.get(512));
writeFileSync(join(folder, 'icon.ico'), ico([16, 24, 32, 48, 64, 128, 256]));
writeFileSync(
  join(folder, 'icon.icns'),
  icns([
    ['icp4', 16],
    ['icp5', 32],
    ['icp6', 64],
    ['ic07', 128],
    ['ic08', 256],
    ['ic09', 512],
    ['ic10', 1024],
  ]),
);
