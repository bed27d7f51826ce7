/** One of a few. */

export const field = { alwaysFilled: true };
