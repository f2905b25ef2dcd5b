/**
 * `<apiary-almanac latitude="-28.81" longitude="153.28" elevation="12" zone="Australia/Sydney">`: the coming
 * dawn and the season of a place. `elevation`, `bee` and `name` may be left out. Importing the module defines it.
 */
export class ApiaryAlmanacElement extends HTMLElement {}

declare global {
  interface HTMLElementTagNameMap {
    "apiary-almanac": ApiaryAlmanacElement;
  }
}
