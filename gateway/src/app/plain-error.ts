interface SystemError extends Error {
  readonly code?: string;
  readonly syscall?: string;
  readonly address?: string;
  readonly port?: number;
  readonly path?: string;
}

/** An error in a plain sentence: what the system means by its code, and what to do. */
export function plainError(error: unknown): string {
  if (!(error instanceof Error)) return String(error);
  const { code, syscall, address, port, path } = error as SystemError;
  const door = `${address ?? "?"}:${port ?? "?"}`;
  if (syscall === "listen")
    switch (code) {
      case "EADDRINUSE":
        return `${door} is taken by another program. End that one, or choose another port.`;
      case "EADDRNOTAVAIL":
        return `This machine has no address ${address ?? "?"}. Choose one that it has, or 0.0.0.0 for all.`;
      case "EACCES":
        return `${door} can't be listened on without more rights. Choose a port from 1024 on.`;
    }
  if (path !== undefined)
    switch (code) {
      case "EACCES":
      case "EPERM":
      case "EROFS":
        return `${path} can't be written. Look at its owner and its rights.`;
      case "ENOSPC":
        return `There is no room on the disk of ${path}.`;
      case "EEXIST":
      case "ENOTDIR":
        return `${path} is in the way: a folder is needed there.`;
    }
  return error.message;
}
