package lodestep.protocol;

import java.util.List;

/** What a head said, sorted for a test. */
public final class Said {

  private Said() {}

  /** Why it refused what was asked, in the order of its refusals. */
  public static List<RefusalReason> refusals(List<HeadFrame> said) {
    return all(said, HeadFrame.Refused.class).stream().map(HeadFrame.Refused::reason).toList();
  }

  /** Its status lines in their order. */
  public static List<HeadFrame.Status> statuses(List<HeadFrame> said) {
    return all(said, HeadFrame.Status.class);
  }

  private static <F extends HeadFrame> List<F> all(List<HeadFrame> said, Class<F> kind) {
    return said.stream().filter(kind::isInstance).map(kind::cast).toList();
  }
}
