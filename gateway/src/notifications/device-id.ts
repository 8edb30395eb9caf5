import { randomUUID } from "node:crypto";

const prefix = "device-";

/** Whether a destination's id is one of a device: a line may not name one so. */
export const isDevice = (id: string): boolean => id.startsWith(prefix);

export const newDeviceId = (): string => `${prefix}${randomUUID()}`;
