import { me } from "../data/me.ts";
import { roleWords } from "../format/words.ts";
import { w } from "../words/words.ts";

/** Who is signed in; the way out stands under More. */
export function Account() {
  const signedIn = me.value?.signedIn;
  if (!signedIn) return null;
  return (
    <a class="who wide" href="#more">
      {me.value?.given ? w.frame.demo : `${signedIn.name} · ${roleWords(signedIn.role)}`}
    </a>
  );
}
