import { z } from 'zod';
import {
  type Component,
  componentBase,
  notNegativeVolt,
  ohm,
  positiveVolt,
  twoNodes,
} from '../circuit-form.ts';
import { defineKind, type Term } from '../kind.ts';
import { ohmMode, plainMode } from './fault-values.ts';

interface Relay extends Component {
  readonly coil: readonly [string, string];
  readonly contact: readonly [string, string];
  /** Closed while released (changeover relay). */
  readonly rest_contact?: readonly [string, string];
  readonly coil_ohm: number;
  readonly pull_in_v: number;
  readonly drop_out_v: number;
  readonly contact_ohm: number;
}

const form = z
  .looseObject({
    ...componentBase,
    coil: twoNodes,
    contact: twoNodes,
    rest_contact: twoNodes.optional(),
    coil_ohm: ohm,
    pull_in_v: positiveVolt,
    drop_out_v: notNegativeVolt,
    contact_ohm: ohm,
  })
  .refine((c) => c.drop_out_v <= c.pull_in_v, {
    error: 'must not be above pull_in_v',
    path: ['drop_out_v'],
  });

/** Coil, contact, and the pull-in with its hysteresis. An ammeter goes around the contact (path coil: the coil). */
export const relay = defineKind<Relay>({
  kind: 'relay',
  form: form as never,
  faultModes: {
    'coil-open': plainMode('coil', 'coil open'),
    'coil-shorted': ohmMode('coil', 'coil shorted', 0.2),
    'contact-open': plainMode('contact', 'contact open'),
    'contact-resistive': ohmMode('contact', 'contact resistive', 0.5),
    'contact-welded': plainMode('contact', 'contact welded'),
  },
  terminals: (c) => [
    { name: 'coil-1', node: c.coil[0] },
    { name: 'coil-2', node: c.coil[1] },
    { name: 'contact-1', node: c.contact[0] },
    { name: 'contact-2', node: c.contact[1] },
    ...(c.rest_contact
      ? [
          { name: 'rest-contact-1', node: c.rest_contact[0] },
          { name: 'rest-contact-2', node: c.rest_contact[1] },
        ]
      : []),
  ],
  terms: (c, { fault }) => {
    const coil = fault('coil');
    const contact = fault('contact');
    const isWelded = contact?.mode === 'contact-welded';
    const contactOhm =
      contact?.mode === 'contact-open'
        ? null
        : typeof contact?.value === 'number'
          ? contact.value
          : c.contact_ohm;
    const coilOhm = !coil ? c.coil_ohm : typeof coil.value === 'number' ? coil.value : null;
    const branches: Term[] = [
      {
        path: 'contact',
        from: c.contact[0],
        to: c.contact[1],
        ohm: contactOhm,
        gate: isWelded ? [] : [{ bit: 'pulled-in', is: true }],
      },
      { path: 'coil', from: c.coil[0], to: c.coil[1], ohm: coilOhm },
    ];
    if (c.rest_contact) {
      branches.push({
        path: 'rest-contact',
        from: c.rest_contact[0],
        to: c.rest_contact[1],
        // A welded blade never reaches the rest contact.
        ohm: isWelded ? null : c.contact_ohm,
        gate: [{ bit: 'pulled-in', is: false }],
      });
    }
    return {
      branches,
      bits: [
        {
          name: 'pulled-in',
          plus: c.coil[0],
          minus: c.coil[1],
          on_v: c.pull_in_v,
          off_v: c.drop_out_v,
          measure: 'absolute',
          canTurnOn: coil === undefined,
        },
      ],
    };
  },
  sign: (_c, seen) => {
    const isIn = seen.isOn('pulled-in');
    return { sign: 'relay', word: isIn ? 'in' : 'out', fraction: isIn ? 1 : 0 };
  },
});
