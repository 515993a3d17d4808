/** Hands a file to the browser's own download. */
export function saveFile(fileName: string, base64: string, mediaType: string): void {
  const bytes = Uint8Array.from(atob(base64), (sign) => sign.charCodeAt(0));
  const address = URL.createObjectURL(new Blob([bytes], { type: mediaType }));
  const link = document.createElement('a');
  link.href = address;
  link.download = fileName;
  link.click();
  // The browser reads the file after the click; a minute later nobody needs the address.
  setTimeout(() => URL.revokeObjectURL(address), 60_000);
}
