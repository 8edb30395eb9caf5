import { me } from "../data/me.ts";

/** Who is signed in; the way out stands under More. */
export function Account() {
  const signedIn = me.value?.signedIn;
  if (!signedIn) return null;
  return (
    <a class="who wide" href="#more">
      {me.value?.given ? "Signed in for the demo" : `${signedIn.name} · ${signedIn.role}`}
    </a>
  );
}
