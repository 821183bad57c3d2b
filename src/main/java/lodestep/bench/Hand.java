package lodestep.bench;

import java.util.List;
import java.util.Optional;
import lodestep.dial.Zero;
import lodestep.measure.SettledReading;
import lodestep.protocol.HeadFrame;
import lodestep.quantity.FluxDensity;

/**
 * One magnet worked by hand, as it stands. Any thread, immutable.
 *
 * @param magnet its identity: the ledger number that named it; 0 until it is named
 * @param attempt 0 until it is started, then 1
 * @param calibrationNumber ledger number of the calibration
 * @param zero the gauge's zero in use
 */
public record Hand(
    HandWork work,
    long magnet,
    long attempt,
    long calibrationNumber,
    Optional<Zero> zero,
    HandProgress progress) {

  static Hand of(HandWork work) {
    return new Hand(work, 0, 0, 0, Optional.empty(), HandProgress.none());
  }

  /** Its name. */
  public String name() {
    return work.row().nameOf(1);
  }

  /** The newest settled reading, gain and zero counted in its uncertainty. */
  public Optional<SettledReading> last() {
    return progress.last();
  }

  /** Charges, approaches and proofs so far. */
  public int acts() {
    return progress.counts().acts();
  }

  /** Settled readings after each approach since the last charge, signed, oldest first. */
  public List<FluxDensity> levels() {
    return progress.passes().stream().map(pass -> signed(pass.levelTesla())).toList();
  }

  /**
   * How much of the way down to the band has been gone, by settled readings: 0 where it begins, 1
   * at the band and where there is no band to come into.
   */
  public double partDown() {
    if (target().isEmpty() || progress.last().isEmpty()) {
      return 0;
    }
    HandWork.Target band = target().orElseThrow();
    double high = Math.abs(band.level().tesla()) + band.tolerance().tesla();
    double found = progress.asFound().map(read -> pole() * read.value().tesla()).orElse(0.0);
    double charged = progress.saturation().lastTesla().orElse(found);
    double whole = Math.max(Math.max(found, charged), along()) - high;
    double left = along() - high;
    return left <= 0 ? 1 : whole <= left ? 0 : 1 - left / whole;
  }

  Hand named(long number, long calibration) {
    return new Hand(work, number, attempt, calibration, zero, progress);
  }

  Hand started() {
    return new Hand(work, magnet, 1, calibrationNumber, zero, progress);
  }

  Hand with(Zero taken) {
    return new Hand(work, magnet, attempt, calibrationNumber, Optional.of(taken), progress);
  }

  Hand with(HandProgress next) {
    return new Hand(work, magnet, attempt, calibrationNumber, zero, next);
  }

  /**
   * +1 while the gauge's face is, or is to be, north; else -1. A level has the pole that was asked,
   * what only comes down the pole it was found with, and what is demagnetised the one it has now.
   */
  double pole() {
    return work.row()
        .task()
        .match(
            level -> Math.signum(level.target().tesla()),
            down -> sign(progress.asFound().map(SettledReading::value)),
            none -> sign(progress.last().map(SettledReading::value)),
            full -> (double) work.row().poleUp().sign());
  }

  private static double sign(Optional<FluxDensity> value) {
    return value.map(FluxDensity::tesla).orElse(0.0) < 0 ? -1 : 1;
  }

  /** The newest settled reading along its pole, in tesla. */
  double along() {
    return pole() * progress.lastValue().tesla();
  }

  /**
   * What it is held against; empty before the first reading, or when it cannot come down so far.
   */
  public Optional<HandWork.Target> target() {
    return progress.asFound().map(SettledReading::value).flatMap(work::target);
  }

  /**
   * One line of the head as flux density in tesla, signed; by the nominal zero before there is one.
   */
  double tesla(HeadFrame.Status status) {
    return HandSteps.tesla(status, work.calibration(), zero);
  }

  /** With a new reading, its uncertainty counted in. */
  Hand read(SettledReading reading) {
    SettledReading counted = work.calibration().counted(reading, zero.orElseThrow().gauge());
    return with(progress.withReading(counted));
  }

  /** A level along its pole, as the gauge reads it. */
  FluxDensity signed(double alongTesla) {
    return new FluxDensity(pole() * alongTesla);
  }
}
