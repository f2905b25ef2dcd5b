// The engine within the module, for what bundles into one file: no second file to find, fetch or copy.

import { packed } from "./packed.js";
import { builtin, startAtOnceFrom, startFrom } from "./start.js";

export * from "./everyday.js";
export * from "./functions.js";

startAtOnceFrom(() => builtin("zlib")?.gunzipSync(builtin("buffer").Buffer.from(packed, "base64")));

export const init = (source) => startFrom(() => source ?? unpacked());

function unpacked() {
  const bytes = Uint8Array.from(atob(packed), (letter) => letter.charCodeAt(0));
  return new Response(new Blob([bytes]).stream().pipeThrough(new DecompressionStream("gzip"))).arrayBuffer();
}
