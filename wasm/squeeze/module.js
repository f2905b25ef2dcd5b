// What has to be known of the binary format of WebAssembly (core specification 2.0, chapter 5).

const HEADER_BYTES = 8;
const CUSTOM = 0;
const IMPORT = 2;
const CODE = 10;
const FUNCTION_IMPORT = 0;
const FUNCTION_NAMES = 1;

/** Reads from the front. */
class Bytes {
  constructor(bytes) {
    this.bytes = bytes;
    this.at = 0;
  }

  get ended() {
    return this.at >= this.bytes.length;
  }

  byte() {
    return this.bytes[this.at++];
  }

  take(length) {
    this.at += length;
    return this.bytes.subarray(this.at - length, this.at);
  }

  /** Whole number in LEB128 (section 5.2.2). */
  number() {
    let value = 0;
    for (let shift = 0; ; shift += 7) {
      const byte = this.byte();
      value += (byte & 127) * 2 ** shift;
      if (byte < 128) return value;
    }
  }

  /** How many, and then that many. */
  list(item) {
    return Array.from({ length: this.number() }, item);
  }
}

function* sections(module) {
  const bytes = new Bytes(module);
  bytes.take(HEADER_BYTES);
  while (!bytes.ended) {
    const id = bytes.byte();
    yield { id, content: new Bytes(bytes.take(bytes.number())) };
  }
}

/** The bodies of the functions that the module itself has, and how many it imports. */
export function functions(module) {
  let imported = 0;
  let bodies = [];
  for (const { id, content } of sections(module)) {
    if (id === IMPORT) {
      content.list(() => {
        content.take(content.number());
        content.take(content.number());
        const kind = content.byte();
        if (kind !== FUNCTION_IMPORT) throw new Error(`an import of kind ${kind}; functions only are known`);
        content.number();
        imported += 1;
      });
    } else if (id === CODE) {
      bodies = content.list(() => content.take(content.number()));
    }
  }
  return { imported, bodies };
}

function number(value) {
  const bytes = [];
  do {
    bytes.push((value & 127) | (value > 127 ? 128 : 0));
    value >>>= 7;
  } while (value > 0);
  return bytes;
}

const sized = (bytes) => [...number(bytes.length), ...bytes];
const text = (string) => sized(new TextEncoder().encode(string));

/** The module with names for its functions (appendix "Custom Sections"), counted with the imported. */
export function named(module, names) {
  const list = names.flatMap((name, place) => [...number(place), ...text(name)]);
  const section = [...text("name"), FUNCTION_NAMES, ...sized([...number(names.length), ...list])];
  return Uint8Array.from([...module, CUSTOM, ...sized(section)]);
}
