/** The outside simulator: ngspice, as the npm package eecircuit-engine (WebAssembly). */
import { Simulation } from 'eecircuit-engine';

export class Simulator {
  readonly #engine = new Simulation();

  async start(): Promise<void> {
    await this.#engine.start();
  }

  /** Node voltages of an operating point, by the netlist's node names; ground is 0. */
  async volts(text: string): Promise<(node: string) => number> {
    this.#engine.setNetList(text);
    const result = await this.#engine.runSim();
    if (result.dataType !== 'real') throw new Error('The simulator returned complex numbers.');
    const values = new Map(result.data.map(({ name, values: [first] }) => [name.toLowerCase(), first]));
    return (node) => {
      if (node === '0') return 0;
      const value = values.get(`v(${node})`);
      if (value === undefined) throw new Error(`The simulator knows no node ${node}:\n${text}`);
      return value;
    };
  }
}
