/** Sizes and ratings of the invented parts, by part kind. Nothing here is a value of a real machine. */
export type DemoAttributes = Readonly<Record<string, number | string>>;

/** What tells families apart: their place in the book's list, and their displacement. */
export interface DemoSize {
  readonly place: number;
  readonly displacement_cm3: number;
  readonly lithium: boolean;
}

const at = <T>(list: readonly T[], place: number): T => list[place % list.length] as T;

const makers: Readonly<Record<string, (size: DemoSize) => DemoAttributes>> = {
  battery: ({ place, displacement_cm3, lithium }) => ({
    voltage_v: 12,
    capacity_ah: lithium
      ? 4
      : displacement_cm3 < 60
        ? 4
        : displacement_cm3 < 130
          ? 6
          : displacement_cm3 < 200
            ? 7
            : 10,
    cold_crank_a: displacement_cm3 < 60 ? 50 : displacement_cm3 < 200 ? 95 : 150,
    chemistry: lithium ? 'lithium' : 'lead-acid',
    length_mm: displacement_cm3 < 60 ? 113 : displacement_cm3 < 200 ? 114 : 151,
    width_mm: displacement_cm3 < 200 ? 70 : 87,
    height_mm: displacement_cm3 < 60 ? 85 : 106,
    polarity: place % 2 === 0 ? 'positive left' : 'positive right',
    terminals: 'bolt and nut M5',
  }),
  'starter-relay': ({ place, displacement_cm3 }) => ({
    voltage_v: 12,
    coil_ohm: at([4.2, 3.9, 4.0, 3.6, 3.8, 3.4, 3.5], place),
    contact_a: displacement_cm3 < 60 ? 60 : displacement_cm3 < 200 ? 100 : 150,
    connector: at(['two-pin flat', 'two-pin sealed', 'four-pin sealed'], place),
    mounting: at(['rubber sleeve', 'bracket'], place),
  }),
  'drive-belt': ({ place }) => ({
    length_mm: at([669, 729, 743, 788, 814, 906, 934], place),
    width_mm: at([18, 18.1, 20, 20.6, 22.4, 24.5, 25.6], place),
  }),
  'variator-roller-set': ({ place, displacement_cm3 }) => ({
    diameter_mm: displacement_cm3 < 60 ? 16 : displacement_cm3 < 200 ? 18 : 20,
    width_mm: displacement_cm3 < 60 ? 13 : displacement_cm3 < 200 ? 14 : 15,
    mass_g: at([5.5, 6, 9.5, 11, 12, 17, 18], place),
  }),
  'spark-plug': ({ place, displacement_cm3 }) => ({
    thread: displacement_cm3 < 60 && place > 0 ? 'M10 x 1' : place === 0 ? 'M14 x 1.25' : 'M10 x 1',
    reach_mm: place === 0 ? 12.7 : 19,
    heat_range: at(['medium', 'medium cold', 'medium'], place),
    resistor: place < 3 ? 'no' : 'yes',
  }),
  'brake-pad-set': ({ place }) => ({
    shape: `demo shape ${at(['A', 'B', 'B', 'C', 'D', 'E', 'F'], place)}`,
    thickness_mm: at([6, 6.5, 6.5, 7, 7.4, 8, 8], place),
  }),
  'brake-shoe-set': ({ place, displacement_cm3 }) => ({
    diameter_mm: displacement_cm3 < 60 ? 110 : 130,
    width_mm: at([25, 25, 28, 30], place),
  }),
  'ignition-coil': ({ place }) => ({
    primary_ohm: at([0.5, 0.4, 3.1, 2.9], place),
    connector: at(['single tab', 'two-pin sealed'], place),
  }),
  regulator: ({ place }) => ({
    voltage_v: 12,
    phases: place < 3 ? 1 : 3,
    connector: place < 3 ? 'four-pin flat' : 'six-pin sealed',
  }),
  stator: ({ place }) => ({ phases: place < 3 ? 1 : 3, coils: at([6, 8, 11, 12, 18, 18, 18], place) }),
  'front-tire': ({ displacement_cm3 }) => ({
    size: displacement_cm3 < 60 ? '90/90-10' : displacement_cm3 < 200 ? '100/80-14' : '110/70-16',
  }),
  'rear-tire': ({ displacement_cm3 }) => ({
    size: displacement_cm3 < 60 ? '90/90-10' : displacement_cm3 < 200 ? '120/70-14' : '140/70-14',
  }),
  'clutch-spring-set': ({ displacement_cm3 }) => ({
    pieces: 3,
    rate: displacement_cm3 < 60 ? 'standard 50' : 'standard 125',
  }),
  'fuel-pump': ({ place }) => ({
    voltage_v: 12,
    connector: at(['four-pin sealed', 'three-pin sealed'], place),
  }),
};

/** Attributes of a part that belongs to an engine family. */
export const attributesOf = (kind: string, size: DemoSize): DemoAttributes => makers[kind]?.(size) ?? {};

/** Parts that any scooter of the book may take, in several ratings. */
export const universalParts: Readonly<
  Record<
    string,
    readonly {
      readonly title: string;
      readonly attributes: DemoAttributes;
      readonly position: string | null;
    }[]
  >
> = {
  fuse: [5, 7.5, 10, 15, 20, 25, 30].map((rating_a) => ({
    title: `Blade fuse ${rating_a} A`,
    attributes: { form: 'regular blade', rating_a },
    position: rating_a === 10 ? 'lamps and signals' : rating_a === 15 ? 'main fuse' : null,
  })),
  'headlamp-bulb': [
    {
      title: 'Headlamp bulb HS1 35/35 W',
      attributes: { category: 'HS1', cap: 'PX43t', voltage_v: 12, power_w: 35 },
      position: 'headlamp',
    },
    {
      title: 'Headlamp bulb H4 60/55 W',
      attributes: { category: 'H4', cap: 'P43t', voltage_v: 12, power_w: 60 },
      position: null,
    },
    {
      title: 'Headlamp bulb S2 35/35 W',
      attributes: { category: 'S2', cap: 'BA20d', voltage_v: 12, power_w: 35 },
      position: null,
    },
  ],
  'lamp-bulb-21-5': [
    {
      title: 'Tail and brake bulb P21/5W',
      attributes: { category: 'P21/5W', cap: 'BAY15d', voltage_v: 12, power_w: 21 },
      position: 'tail and brake lamp',
    },
    {
      title: 'Tail and brake bulb P21/5W, 6 V',
      attributes: { category: 'P21/5W', cap: 'BAY15d', voltage_v: 6, power_w: 21 },
      position: null,
    },
  ],
  'lamp-bulb-21': [
    {
      title: 'Signal bulb P21W',
      attributes: { category: 'P21W', cap: 'BA15s', voltage_v: 12, power_w: 21 },
      position: 'turn signals',
    },
    {
      title: 'Signal bulb PY21W, amber',
      attributes: { category: 'PY21W', cap: 'BAU15s', voltage_v: 12, power_w: 21 },
      position: null,
    },
  ],
  'lamp-bulb-10': [
    {
      title: 'Signal bulb R10W',
      attributes: { category: 'R10W', cap: 'BA15s', voltage_v: 12, power_w: 10 },
      position: 'turn signals',
    },
    {
      title: 'Signal bulb RY10W, amber',
      attributes: { category: 'RY10W', cap: 'BAU15s', voltage_v: 12, power_w: 10 },
      position: null,
    },
  ],
  'lamp-bulb-5': [
    {
      title: 'Position bulb W5W',
      attributes: { category: 'W5W', cap: 'W2.1x9.5d', voltage_v: 12, power_w: 5 },
      position: 'position lamp',
    },
    {
      title: 'Position bulb R5W',
      attributes: { category: 'R5W', cap: 'BA15s', voltage_v: 12, power_w: 5 },
      position: null,
    },
  ],
  bulb: [
    {
      title: 'Wedge bulb W1.2W',
      attributes: { category: 'W1.2W', cap: 'W2x4.6d', voltage_v: 12, power_w: 1.2 },
      position: 'instruments',
    },
    {
      title: 'Wedge bulb W3W',
      attributes: { category: 'W3W', cap: 'W2.1x9.5d', voltage_v: 12, power_w: 3 },
      position: null,
    },
  ],
  'instrument-bulb': [
    {
      title: 'Instrument bulb 12 V 1.2 W',
      attributes: { cap: 'W2x4.6d', voltage_v: 12, power_w: 1.2 },
      position: 'instruments',
    },
  ],
};

/** Kinds that are the same on every machine of the book. */
export const sameForAll: ReadonlySet<string> = new Set([
  'wire-repair-kit',
  'plug-repair-kit',
  'fuse-holder',
  'battery-terminal-kit',
  'key-blank',
  'vacuum-hose',
  'fuel-hose',
  'fuel-filter',
  'fuel-treatment',
  'o-ring',
  'drain-plug-washer',
  'two-stroke-oil',
  'coolant',
  'final-drive-oil',
  'lamp-holder',
  'brake-fluid',
  'fork-oil',
  'tire-valve',
  'tire-valve-core',
  'tire-repair-kit',
  'wheel-weights',
  'fastener-kit',
  'accessory-relay',
  'remote-battery',
  'flywheel-key',
  'exhaust-gasket',
  'headlamp-socket',
  'axle-nut',
]);
