/** Said where something can't be had: never "none". */
export function CouldNotLoad({ what, again }: { readonly what: string; readonly again: () => void }) {
  return (
    <p class="problem" role="status">
      Couldn't load {what}.{" "}
      <button type="button" class="btn" onClick={again}>
        Try again
      </button>
    </p>
  );
}
