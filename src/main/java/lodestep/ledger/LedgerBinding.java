package lodestep.ledger;

import java.util.Optional;
import lodestep.config.RigKind;
import lodestep.port.LedgerEvent.LedgerCreated;

/**
 * What a ledger is bound to when it is made, for good: one rig, and real or virtual. Records of a
 * virtual magnet must never stand among those of real ones.
 *
 * @param rig the rig's name as in rig.toml
 */
public record LedgerBinding(String rig, RigKind kind) {

  /**
   * Version of the records' form. It is raised whenever a kind of event is added, so that a program
   * which does not know it refuses the ledger. A ledger's first event says with which form it was
   * begun, its file's header the newest form that a program has written into it.
   */
  public static final int SCHEMA = 8;

  /** The first event of a ledger with this binding. */
  public LedgerCreated created() {
    return new LedgerCreated(rig, kind.word(), SCHEMA);
  }

  /**
   * Why a ledger with this first event is not this rig's: one sentence, or empty if it is.
   *
   * @param where the ledger's file, for the sentence
   */
  public Optional<String> refusal(LedgerCreated found, String where) {
    if (!found.rigKind().equals(kind.word())) {
      return Optional.of(
          String.format(
              "the ledger %s belongs to a %s rig, and this rig is %s; name another ledger",
              where, found.rigKind(), kind.word()));
    }
    if (!found.rig().equals(rig)) {
      return Optional.of(
          String.format(
              "the ledger %s belongs to the rig '%s', and this rig is '%s'; name another ledger",
              where, found.rig(), rig));
    }
    return Optional.empty();
  }
}
