/** Hands a file to the browser's own download. */
export function saveBytes(fileName: string, base64: string, type: string): void {
  const bytes = Uint8Array.from(atob(base64), (sign) => sign.charCodeAt(0));
  const address = URL.createObjectURL(new Blob([bytes], { type }));
  const link = document.createElement('a');
  link.href = address;
  link.download = fileName;
  link.click();
  // The browser reads the file after the click.
  setTimeout(() => URL.revokeObjectURL(address), 60_000);
}
