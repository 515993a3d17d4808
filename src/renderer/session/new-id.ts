import { v7 } from 'uuid';

/** An id made here (UUIDv7), so that sending the same card twice opens it once. */
export const newId = (): string => v7();
