package lodestep.app.remote;

/** The rig's process gives no answer, or cannot be moved on. */
final class RigSilence extends RuntimeException {

  private static final long serialVersionUID = 1L;

  private final String why;

  /**
   * @param why completes the sentence "the virtual rig's own process ..."
   */
  RigSilence(String why) {
    super("the virtual rig's own process " + why);
    this.why = why;
  }

  /** What has happened and what to do, in one sentence for a person. */
  String words() {
    return "the virtual rig's own process "
        + why
        + "; what was done is on record, go on with: lodestep batch --continue";
  }
}
