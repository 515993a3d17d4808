import { type Circuit, type Fault, solveCircuit } from '../../circuit/index.ts';

/** Into the battery at speed: at least this on a healthy machine, at most that where it no longer charges, A. Common practice, no source. */
const charging = { healthy: 0.3, none: 0.05 } as const;
/** Above this the battery boils and bulbs blow, V. Common practice; regulated output of light vehicles ends at 15.0 to 15.5 V. */
const overcharge_v = 15.5;
/** Drain with the key off that empties a small battery in days, A. Common practice, no source. */
const drain_a = 0.01;

interface AtBattery {
  /** Positive into the battery. */
  readonly amps: number;
  readonly volts: number;
}

/** What a fault does to the battery over hours, which nobody sees at once: not charged, overcharged, flat after standing. */
export function batterySymptoms(circuit: Circuit, faults: readonly Fault[]): Map<string, string> {
  const found = new Map<string, string>();
  const battery = circuit.components.find((component) => component.kind === 'battery');
  const positive = battery?.positive;
  const negative = battery?.negative;
  if (!battery || typeof positive !== 'string' || typeof negative !== 'string') return found;
  const at = (controls: Record<string, string>, present: readonly Fault[]): AtBattery | null => {
    const { nodes, currents } = solveCircuit(circuit, { faults: [...present], controls });
    const own = Object.values(currents?.[battery.id] ?? {})[0];
    const [high, low] = [nodes?.[positive], nodes?.[negative]];
    if (own === undefined || high == null || low == null) return null;
    return { amps: own, volts: high - low };
  };

  const riding = ridingControls(circuit);
  const soundRiding = riding && at(riding, []);
  const nowRiding = riding && at(riding, faults);
  if (soundRiding && nowRiding && soundRiding.amps >= charging.healthy) {
    if (nowRiding.volts > overcharge_v && soundRiding.volts <= overcharge_v) {
      found.set('overcharging', `${nowRiding.volts.toFixed(1)} V at the battery`);
    } else if (nowRiding.amps <= charging.none) {
      found.set('battery-not-charging', `${nowRiding.amps.toFixed(1)} A into the battery`);
    }
  }
  const soundStanding = at({}, []);
  const nowStanding = at({}, faults);
  // Amperes of drain blow the fuse or empty the battery in minutes; that is a dead machine, not a flat one next morning.
  if (
    soundStanding &&
    nowStanding &&
    nowStanding.amps < -drain_a &&
    nowStanding.amps > -5 &&
    soundStanding.amps > -drain_a
  ) {
    found.set('battery-overnight', `${(-1000 * nowStanding.amps).toFixed(0)} mA with the key off`);
  }
  return found;
}

/** Key on and the engine at its highest speed; null where the circuit has no engine that runs. */
function ridingControls(circuit: Circuit): Record<string, string> | null {
  const engine = Object.entries(circuit.controls).find(([name]) => name.startsWith('engine'));
  const speeds = (engine?.[1].positions ?? []).filter((position) => /1\/min/.test(position));
  const fastest = speeds.sort((a, b) => Number.parseInt(b, 10) - Number.parseInt(a, 10))[0];
  if (!engine || fastest === undefined) return null;
  const key = Object.entries(circuit.controls).find(
    ([name, { positions }]) => /^key/.test(name) && positions.includes('on'),
  );
  return { [engine[0]]: fastest, ...(key ? { [key[0]]: 'on' } : {}) };
}
