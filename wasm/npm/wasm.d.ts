/** The engine's file: an address, bytes or a module, as the bundler makes it. `init` takes each of them. */
declare const engine: string | Uint8Array<ArrayBuffer> | WebAssembly.Module;
export default engine;
