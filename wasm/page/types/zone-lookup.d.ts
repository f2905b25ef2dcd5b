/** IANA time zone of a position; build.js makes this module of the npm package. */
export default function tzlookup(latitudeDeg: number, longitudeDeg: number): string;
