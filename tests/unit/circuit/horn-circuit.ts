/** The example circuit of METHOD.md's form, as an object: a horn through a relay. */
export function hornCircuit() {
  return {
    id: 'demo-horn',
    title: 'Horn through a relay',
    ground: 'bat-neg',
    controls: {
      key: { positions: ['off', 'on'], rest: 'off' },
      horn: { positions: ['released', 'pressed'], rest: 'released' },
    },
    plugs: { 'horn-plug': { title: 'two-pin plug at the horn', parts: ['w-horn'] } },
    components: [
      {
        id: 'battery',
        kind: 'battery',
        positive: 'bat-pos',
        negative: 'bat-neg',
        emf_v: 12.7,
        resistance_ohm: 0.018,
      },
      { id: 'fuse-1', kind: 'fuse', ends: ['bat-pos', 'fused'], rating_a: 10, resistance_ohm: 0.008 },
      {
        id: 'key-sw',
        kind: 'switch',
        ends: ['fused', 'ign'],
        control: 'key',
        closed_at: ['on'],
        resistance_ohm: 0.02,
      },
      {
        id: 'relay-1',
        kind: 'relay',
        coil: ['ign', 'coil-low'],
        contact: ['fused', 'horn-feed'],
        coil_ohm: 80,
        pull_in_v: 7.5,
        drop_out_v: 2.5,
        contact_ohm: 0.002,
      },
      {
        id: 'button',
        kind: 'switch',
        ends: ['coil-low', 'frame'],
        control: 'horn',
        closed_at: ['pressed'],
        resistance_ohm: 0.03,
      },
      { id: 'w-horn', kind: 'wire', ends: ['horn-feed', 'horn-pos'], resistance_ohm: 0.06 },
      { id: 'horn', kind: 'resistor', ends: ['horn-pos', 'frame'], resistance_ohm: 4 },
      { id: 'strap', kind: 'wire', ends: ['bat-neg', 'frame'], resistance_ohm: 0.003 },
    ] as Record<string, unknown>[],
    points: {
      'horn-plug-feed': { node: 'horn-pos', title: 'horn plug, feed side', where: 'behind the front panel' },
    } as Record<string, Record<string, unknown>>,
  };
}

export const HORN_ON = { key: 'on', horn: 'pressed' };
