// The views that show answers: they are fetched beside the engine, and the first form does not wait for them.

export { dawnView as dawn } from "./dawn.js";
export { deviceView as device } from "./device.js";
export { planView as plan } from "./plan.js";
export { takeView } from "./take.js";
export { tasksView as tasks } from "./tasks.js";
export { yearView as year } from "./year.js";
