/** Another gateway works at this site. */
export class SiteTaken extends Error {
  readonly code = "site-taken";
}
