/** A value that the engine does not accept. */
export class ApiaryError extends Error {
  constructor({ code, field, message }) {
    super(message);
    this.name = "ApiaryError";
    this.code = code;
    this.field = field;
  }
}

/** Calls the engine, which throws the JSON form of its errors. */
export function refusing(call) {
  try {
    return call();
  } catch (thrown) {
    throw typeof thrown === "string" ? new ApiaryError(JSON.parse(thrown)) : thrown;
  }
}
