package lodestep.app;

import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import lodestep.bench.Batch;
import lodestep.bench.Entry;
import lodestep.bench.NestSeatings;
import lodestep.bench.Plan;
import lodestep.bench.PlanReader;
import lodestep.bench.PlanReading;
import lodestep.cli.Refusal;
import lodestep.dial.PlannerMode;
import lodestep.dial.RigMemory;
import lodestep.measure.GaugeCalibration;

/** Reads the files of plans, and makes batches of plans. */
final class PlanSource {

  private PlanSource() {}

  static PlanReading read(Path planFile, PlanReader reader) {
    String name = Optional.ofNullable(planFile.getFileName()).map(Path::toString).orElse("plan");
    // One byte over what a plan may have is enough to refuse it, however much there is.
    try (InputStream stream = Files.newInputStream(planFile)) {
      return reader.read(name, stream.readNBytes(PlanReader.BYTES_MAX + 1));
    } catch (IOException unreadable) {
      throw new Refusal("cannot read the plan " + planFile + "; see that the file is there");
    }
  }

  /** A batch of this plan, with the number it has in the ledger; 0 when it has not begun. */
  static Batch batch(
      Plan plan,
      long number,
      List<Entry> entries,
      PlannerMode mode,
      GaugeCalibration gauge,
      NestSeatings seatings) {
    return new Batch(
        plan.name(),
        plan.sha256(),
        plan.text(),
        number,
        entries,
        mode,
        RigMemory.none(),
        Optional.empty(),
        gauge,
        0,
        seatings);
  }
}
