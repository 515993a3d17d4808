/** The life of a job card. People may set any status; some steps move it by themselves. */
export const statuses = [
  'booked',
  'checked-in',
  'diagnosing',
  'awaiting-approval',
  'waiting-for-parts',
  'on-charge',
  'in-work',
  'final-check',
  'ready',
  'collected',
] as const;
export type Status = (typeof statuses)[number];

const notYetLookedAt: readonly Status[] = ['booked', 'checked-in'];
const handedOver: readonly Status[] = ['ready', 'collected'];

/** The first reading takes a card into diagnosis; later ones leave it where people put it. */
export const afterReading = (status: Status): Status =>
  notYetLookedAt.includes(status) ? 'diagnosing' : status;

/** The last concern closed makes the card ready; before that the work goes on. */
export function afterClosing(status: Status, openConcernsLeft: number): Status {
  if (openConcernsLeft === 0) return status === 'collected' ? status : 'ready';
  return notYetLookedAt.includes(status) ? 'in-work' : status;
}

export const afterReopening = (status: Status): Status =>
  handedOver.includes(status) ? 'diagnosing' : status;

/** A new concern on a card that was done means it is not done. */
export const afterNewConcern = (status: Status): Status =>
  handedOver.includes(status) ? 'checked-in' : status;

/**
 * Why a status cannot be set, or null.
 * @param openConcerns concerns of the card that are not closed
 */
export function refuseStatus(to: Status, openConcerns: number): string | null {
  if (handedOver.includes(to) && openConcerns > 0)
    return `The card has ${openConcerns} open ${openConcerns === 1 ? 'concern' : 'concerns'}; close ${openConcerns === 1 ? 'it' : 'them'} first (not reproduced, normal and handling are endings too).`;
  return null;
}
