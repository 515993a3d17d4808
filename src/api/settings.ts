import { type Db, readSettings, writeSetting } from '../store/index.ts';
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
