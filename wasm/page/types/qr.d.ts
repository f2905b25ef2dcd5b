/** The library lean-qr, in its small form; build.js makes this module of the npm package. */
export const correction: { readonly L: number; readonly M: number; readonly Q: number; readonly H: number };
export function generate(data: string, options?: { minCorrectionLevel?: number }): { readonly size: number; get(x: number, y: number): boolean };
