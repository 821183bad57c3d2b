package lodestep.interlock;

import lodestep.port.InputLine;
import lodestep.port.OutputLine;
import lodestep.port.Outputs;
import lodestep.port.View;
import lodestep.protocol.HeadFlag;
import lodestep.protocol.HeadFrame;

/**
 * The facts of one scan, worked out once from the inputs and what was seen before. What the head
 * says counts only while {@link #known}.
 *
 * @param head the newest status line; one with nothing in it while none has come
 * @param heard whether there is a status line of the head's present boot
 * @param news whether that line is new in this scan
 * @param headAgeNs its age, in nanoseconds
 */
record Seen(
    InterlockInputs in,
    Figures figures,
    DriveTimes drive,
    HeadFrame.Status head,
    boolean heard,
    boolean news,
    long headAgeNs) {

  private static final HeadFrame.Status NOTHING =
      new HeadFrame.Status(0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0);
  private static final int ENERGISING =
      Outputs.high(
              OutputLine.BANK_FILL,
              OutputLine.BANK_HOLD,
              OutputLine.COIL_FIRE,
              OutputLine.COIL_ON,
              OutputLine.JIG_ENABLE)
          .highBits();

  static Seen of(InterlockInputs in, Figures figures, DriveTimes drive, HeadWatch before) {
    if (in.status().isEmpty()) {
      long ageNs = before.heard() ? in.nowNs() - before.lastAtNs() : Long.MAX_VALUE;
      return new Seen(in, figures, drive, NOTHING, false, false, ageNs);
    }
    View.Status status = in.status().get();
    HeadFrame.Status head = status.frame();
    boolean news =
        !before.heard()
            || status.receivedAtNs() != before.lastAtNs()
            || head.sequence() != before.lastSequence();
    return new Seen(in, figures, drive, head, true, news, in.nowNs() - status.receivedAtNs());
  }

  long nowNs() {
    return in.nowNs();
  }

  boolean closed(InputLine line) {
    return in.contacts().closed(line);
  }

  boolean driven(OutputLine line) {
    return in.driven().isHigh(line);
  }

  /** Whether the head's line may be believed at this age, in nanoseconds. */
  boolean fresh(long limitNs) {
    return heard && in.link().open() && headAgeNs <= limitNs;
  }

  /** Whether what the head says is known; older than this is silence. */
  boolean known() {
    return fresh(figures.limits().statusAgeTripNs());
  }

  boolean says(HeadFlag flag) {
    return head.has(flag);
  }

  int bankMilliVolts() {
    return head.bankMilliVolts();
  }

  boolean coilCurrent() {
    return Math.abs(head.coilMilliAmps()) > figures.currentZeroMilliAmps();
  }

  /** Whether anything that stores, moves or releases energy is driven, or reads back as driven. */
  boolean energised() {
    return ((in.driven().highBits() | in.readBack().highBits()) & ENERGISING) != 0;
  }

  /**
   * Whether energy is in use: the opposite of loading, where the lid may be open. An unknown bank
   * is no reason to call it so, because silence of the head is a trip of its own.
   */
  boolean inUse() {
    return energised() || (known() && bankMilliVolts() > figures.bankLowMilliVolts());
  }
}
