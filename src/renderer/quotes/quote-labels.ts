/** Words of quotes on the screens. */

export const kindWords = {
  labor: 'Labor, in minutes at a price an hour',
  part: 'Part',
  fee: 'Fee',
  deposit: 'Deposit for the old part',
} as const;

export const payerWords = {
  customer: '',
  warranty: 'paid by warranty',
  goodwill: 'our goodwill',
  internal: 'paid by the shop',
} as const;

export const payerChoices = [
  ['customer', 'Customer'],
  ['warranty', 'Warranty'],
  ['goodwill', 'Goodwill'],
  ['internal', 'The shop'],
] as const;

export const stateWords = {
  draft: 'Draft',
  issued: 'Issued, waiting for an answer',
  accepted: 'Accepted',
  declined: 'Declined',
} as const;
