package lodestep.interlock;

import lodestep.protocol.HeadFrame;

/** Figures of a head's build, changed in one place. */
public final class Builds {

  private Builds() {}

  /** The same figures, said in another run of the head. */
  public static HeadFrame.Build inRun(int bootId, HeadFrame.Build build) {
    return new HeadFrame.Build(
        bootId,
        build.pitchNanoMetres(),
        build.stepsPerTurn(),
        build.travelMicroMetres(),
        build.microMetresPerSecond(),
        build.windowMillis(),
        build.bankCapMilliVolts(),
        build.coilCentiDegCMax());
  }

  /** With so many steps in a turn, and so much travel. */
  public static HeadFrame.Build withScrew(HeadFrame.Build build, int steps, int travel) {
    return new HeadFrame.Build(
        build.bootId(),
        build.pitchNanoMetres(),
        steps,
        travel,
        build.microMetresPerSecond(),
        build.windowMillis(),
        build.bankCapMilliVolts(),
        build.coilCentiDegCMax());
  }

  /** With this highest temperature, in hundredths of a degree Celsius. */
  public static HeadFrame.Build withHottest(HeadFrame.Build build, int centiDegC) {
    return new HeadFrame.Build(
        build.bootId(),
        build.pitchNanoMetres(),
        build.stepsPerTurn(),
        build.travelMicroMetres(),
        build.microMetresPerSecond(),
        build.windowMillis(),
        build.bankCapMilliVolts(),
        centiDegC);
  }
}
