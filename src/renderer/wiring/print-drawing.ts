/** Prints the wiring alone: the rest of the page is left out by the print style while the mark is set. */
export function printDrawing(onBusy: (isBusy: boolean) => void): void {
  const { body } = document;
  body.dataset.print = 'wiring';
  onBusy(true);
  const after = () => {
    delete body.dataset.print;
    onBusy(false);
    removeEventListener('afterprint', after);
  };
  addEventListener('afterprint', after);
  print();
}
