/** The shop's own picture, as it is kept and printed. */
export interface Logo {
  readonly kind: 'png' | 'jpeg';
  /** Pixels. */
  readonly width: number;
  readonly height: number;
}

export type LogoAnswer =
  | { readonly ok: true; readonly logo: Logo }
  | { readonly ok: false; readonly why: string };

/** A logo is a few hundred pixels wide; above this it is a photograph that would weigh on every page. */
export const mostLogoBytes = 300_000;
const mostPixels = 4000;

const no = (why: string): LogoAnswer => ({ ok: false, why });

/**
 * Reads what kind of picture some bytes are and how large, from the bytes and never from a name.
 * Sources: PNG (ISO/IEC 15948) signature and IHDR; JPEG (ITU-T T.81) markers SOI and SOF.
 */
export function readLogoBytes(bytes: Uint8Array): LogoAnswer {
  if (bytes.length === 0) return no('The file is empty.');
  if (bytes.length > mostLogoBytes)
    return no(
      `The picture has ${Math.ceil(bytes.length / 1000)} kB; up to ${mostLogoBytes / 1000} kB can be kept. Save it smaller, 600 pixels wide are plenty.`,
    );
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const png = [0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a];
  if (png.every((byte, at) => bytes[at] === byte)) {
    if (bytes.length < 33 || view.getUint32(12) !== 0x49484452) return no('The PNG picture is cut off.');
    return sized('png', view.getUint32(16), view.getUint32(20));
  }
  if (bytes[0] === 0xff && bytes[1] === 0xd8) return readJpeg(bytes, view);
  return no('This is neither a PNG nor a JPEG picture, whatever its name says.');
}

function readJpeg(bytes: Uint8Array, view: DataView): LogoAnswer {
  let at = 2;
  while (at + 9 < bytes.length) {
    if (bytes[at] !== 0xff) break;
    const marker = bytes[at + 1] as number;
    if (marker === 0xff) {
      at += 1;
      continue;
    }
    // Start of frame: C0 to CF, without the tables C4, C8 and CC that share the range.
    if (marker >= 0xc0 && marker <= 0xcf && ![0xc4, 0xc8, 0xcc].includes(marker))
      return sized('jpeg', view.getUint16(at + 7), view.getUint16(at + 5));
    at += 2 + view.getUint16(at + 2);
  }
  return no('The JPEG picture is damaged or cut off.');
}

function sized(kind: Logo['kind'], width: number, height: number): LogoAnswer {
  if (width < 1 || height < 1) return no('The picture has no size.');
  if (width > mostPixels || height > mostPixels)
    return no(`The picture is ${width} × ${height} pixels; up to ${mostPixels} each way can be printed.`);
  return { ok: true, logo: { kind, width, height } };
}
