/**
 * An electric start with the button on the ground side of the relay coil and the brake switch on its supply side.
 * Values are invented; a starter relay coil of about 4 Ω draws about three amperes (common practice, no source).
 */
export function startCircuit() {
  return {
    id: 'start',
    ground: 'bat-neg',
    controls: {
      key: { positions: ['off', 'on'], rest: 'off' },
      brake: { positions: ['free', 'held'], rest: 'free' },
      button: { positions: ['released', 'pressed'], rest: 'released' },
    },
    components: [
      {
        id: 'battery',
        kind: 'battery',
        positive: 'bat-pos',
        negative: 'bat-neg',
        emf_v: 12.7,
        resistance_ohm: 0.018,
      },
      { id: 'fuse', kind: 'fuse', ends: ['bat-pos', 'fused'], rating_a: 15, resistance_ohm: 0.006 },
      {
        id: 'key-sw',
        kind: 'switch',
        ends: ['fused', 'ign'],
        control: 'key',
        closed_at: ['on'],
        resistance_ohm: 0.02,
      },
      {
        id: 'brake-sw',
        kind: 'switch',
        ends: ['ign', 'coil-feed'],
        control: 'brake',
        closed_at: ['held'],
        resistance_ohm: 0.03,
      },
      { id: 'brake-lamp', kind: 'lamp', ends: ['coil-feed', 'frame'], rated_v: 12, rated_w: 21 },
      {
        id: 'relay',
        kind: 'relay',
        coil: ['coil-feed', 'coil-low'],
        contact: ['bat-pos', 'starter-pos'],
        coil_ohm: 4,
        pull_in_v: 7,
        drop_out_v: 3,
        contact_ohm: 0.001,
      },
      {
        id: 'button',
        kind: 'switch',
        ends: ['coil-low', 'frame'],
        control: 'button',
        closed_at: ['pressed'],
        resistance_ohm: 0.03,
      },
      {
        id: 'starter',
        kind: 'motor',
        ends: ['starter-pos', 'frame'],
        running_ohm: 0.12,
        stall_ohm: 0.04,
        role: 'starter',
      },
      { id: 'strap', kind: 'wire', ends: ['bat-neg', 'frame'], resistance_ohm: 0.002 },
    ] as Record<string, unknown>[],
    plugs: { 'relay-plug': { parts: [] as string[] } },
    points: {
      'coil-feed-pin': { node: 'coil-feed', title: 'relay plug, feed pin' },
      'coil-ground-pin': { node: 'coil-low', title: 'relay plug, ground pin' },
    },
  };
}

export const STARTING = { key: 'on', brake: 'held', button: 'pressed' };
