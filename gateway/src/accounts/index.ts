export { type NodeCredentials, openNodeCredentials } from "./node-credentials.ts";
