/**
 * The form of the record: canonical bytes of an event, the hash chain over them, the proof that a
 * ledger is whole, and what is read from it. Pure: stores are reached through the port.
 *
 * <h2>Canonical bytes</h2>
 *
 * One event is one JSON object in the canonical form of RFC 8785. Its members are the event's
 * fields, named as the components of the records of {@link lodestep.port.LedgerEvent}, and four
 * that every event has:
 *
 * <ul>
 *   <li>{@code number}: the event's number, from 1, without a gap
 *   <li>{@code kind}: the record's name in lower case with hyphens
 *   <li>{@code atNs}: monotonic time in nanoseconds, as decimal <em>text</em>, since a machine that
 *       has been up for 105 days counts beyond the whole numbers every JSON reader takes exactly
 *       (RFC 7493, section 2.2, recommends text there)
 *   <li>{@code wallEpochMs}: wall time in milliseconds since 1970-01-01 UTC
 * </ul>
 *
 * Values are text, whole numbers within &plusmn;(2<sup>53</sup> &minus; 1), truth values and lists
 * of whole numbers. A fraction is scaled to a whole number of the unit its name ends in.
 *
 * <h2>Chain</h2>
 *
 * hash(n) = SHA-256(hash(n &minus; 1) followed by the canonical bytes of event n); hash(0) is 32
 * zero bytes. The hash covers the stored bytes, never something made from them again.
 *
 * <h2>Example</h2>
 *
 * The two events of a short ledger, one a line, and after each its hash; hash 1 covers 32 zero
 * bytes and line 1, hash 2 covers hash 1 and line 2, without the line ends. An indented line is the
 * rest of the one before, indented for this page only:
 *
 * <pre>
 * {"atNs":"1000000","kind":"ledger-created","number":1,"rig":"shed","rigKind":"virtual",
 *   "schema":1,"wallEpochMs":1767225600000}
 * 6314834c2e45f4c10a5a069c49f7591c972435111b62f829e61186c766e1fb8f
 * {"atNs":"2000000","kind":"program-stopped","number":2,"wallEpochMs":1767225600001,
 *   "why":"asked \"enough\""}
 * 716e643d7f9d2a1e996ba0fa7e792f8f9573df629987cce66c04039cf8f2c2bf
 * </pre>
 */
@NullMarked
package lodestep.ledger;

import org.jspecify.annotations.NullMarked;
