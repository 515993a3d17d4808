import { readLogoBytes } from '../paper/index.ts';
import { Problem } from '../problem.ts';
import { type Db, readSetting, readSettings, writeSetting } from '../store/index.ts';
import { type Settings, settings as settingsSchema } from './contract.ts';

/** What a shop has before it says anything else. */
const unset: Settings = {
  shopName: '',
  address: '',
  phone: '',
  currency: 'USD',
  laborRate: '60.00',
  diagnosisFee: '30.00',
  comebackDays: 90,
  comebackKm: 1000,
  technicians: [],
};

const key = (name: string): string => `shop.${name}`;

/** Settings as saved; one that no longer reads falls back to what a new shop has. */
export async function readShopSettings(db: Db): Promise<Settings> {
  const saved = await readSettings(db);
  const result: Record<string, unknown> = {};
  for (const [name, schema] of Object.entries(settingsSchema.shape)) {
    const text = saved[key(name)];
    const value = text === undefined ? undefined : schema.safeParse(JSON.parse(text));
    result[name] = value?.success ? value.data : unset[name as keyof Settings];
  }
  return result as Settings;
}

export async function writeShopSettings(db: Db, set: Partial<Settings>): Promise<Settings> {
  for (const [name, value] of Object.entries(set))
    if (value !== undefined) await writeSetting(db, key(name), JSON.stringify(value));
  return readShopSettings(db);
}

const logoKey = 'quote.logo';

/** Bytes of the shop's picture, PNG or JPEG; null where there is none. */
export async function readLogo(db: Db): Promise<Uint8Array | null> {
  const kept = await readSetting(db, logoKey);
  return kept ? Buffer.from(kept, 'base64') : null;
}

/**
 * Keeps the shop's picture for the head of quotes, or takes it away with null.
 * @throws Problem bad-file where the bytes are no PNG or JPEG picture that can be printed
 */
export async function writeLogo(
  db: Db,
  bytes: Uint8Array | null,
  tryPrinting: (bytes: Uint8Array) => Promise<unknown>,
): Promise<void> {
  if (bytes !== null) {
    const read = readLogoBytes(bytes);
    if (!read.ok) throw new Problem('bad-input', `logo: ${read.why}`, { field: 'logo' });
    // The head of a file can be right and the rest damaged: what cannot be printed is not kept.
    await tryPrinting(bytes).catch((error: unknown) => {
      throw new Problem(
        'bad-input',
        'logo: the picture is damaged; it cannot be printed. Save it anew as PNG or JPEG.',
        { field: 'logo' },
        { cause: error },
      );
    });
  }
  await writeSetting(db, logoKey, bytes === null ? '' : Buffer.from(bytes).toString('base64'));
}
