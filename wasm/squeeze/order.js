// The order of the functions in which gzip finds most of each in what came shortly before. gzip looks
// back 32 kB, and the linker's order puts functions that are alike far from each other.

const PIECE = 6;
// A little of what gzip sees, so that what is alike comes close, where naming it costs less.
const WINDOW = 8000;
// Pieces of which there are more are everywhere, so they say nothing.
const MOST_PLACES = 400;

/**
 * The places of the bodies in their new order.
 * @param {Uint8Array[]} bodies
 */
export function order(bodies) {
  const { pieces, holders } = piecesOf(bodies);
  const seen = new Uint32Array(holders.length);
  const score = new Float64Array(bodies.length);
  const count = (body, by) => {
    for (const piece of pieces[body]) {
      const before = seen[piece];
      seen[piece] += by;
      if (before === 0 || seen[piece] === 0) for (const other of holders[piece]) score[other] += by;
    }
  };
  const ordered = [];
  const rest = new Set(bodies.keys());
  let oldest = 0;
  let bytes = 0;
  let next = 0;
  while (rest.size > 0) {
    rest.delete(next);
    ordered.push(next);
    count(next, 1);
    bytes += bodies[next].length;
    for (; bytes > WINDOW && oldest < ordered.length - 1; oldest += 1) {
      count(ordered[oldest], -1);
      bytes -= bodies[ordered[oldest]].length;
    }
    let best = -1;
    for (const body of rest) {
      const share = score[body] / (bodies[body].length + 60);
      if (share > best) [best, next] = [share, body];
    }
  }
  return ordered;
}

/** The numbers of the pieces of each body, and the bodies that hold each piece. */
function piecesOf(bodies) {
  const numbers = new Map();
  const holders = [];
  const pieces = bodies.map((body, place) => {
    const mine = new Set();
    for (let at = 0; at + PIECE <= body.length; at += 1) {
      const text = String.fromCharCode(...body.subarray(at, at + PIECE));
      let number = numbers.get(text);
      if (number === undefined) {
        number = holders.length;
        numbers.set(text, number);
        holders.push([]);
      }
      if (!mine.has(number)) holders[number].push(place);
      mine.add(number);
    }
    return mine;
  });
  const telling = (piece) => holders[piece].length > 1 && holders[piece].length < MOST_PLACES;
  return { pieces: pieces.map((mine) => [...mine].filter(telling)), holders };
}
