package lodestep.app;

import java.io.IOException;
import java.io.InputStream;
import java.nio.ByteBuffer;
import java.nio.charset.CharacterCodingException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import lodestep.app.remote.HandOrder;
import lodestep.bench.GaugeDoor;
import lodestep.bench.Lots;
import lodestep.cli.Refusal;
import lodestep.config.NestConfig;
import lodestep.config.ReferenceConfig;
import lodestep.config.RigConfig;
import lodestep.ledger.GaugeRecord;
import lodestep.magnet.Shape;
import lodestep.port.LedgerArchive;
import lodestep.quantity.Length;
import lodestep.sim.StockPiece;

/** What the gauge's commands need around the ledger and the virtual rig. */
final class GaugeDesk {

  /** A sheet is typed by a person; a larger file is some other file. */
  private static final int BYTES_MAX = 1_000_000;

  private static final String ALLOY = "alnico 5";
  private static final double ROOM_KELVIN = 293.15;
  private static final double FIELD_MAX = 200e3;
  private static final int HALVINGS = 18;

  private GaugeDesk() {}

  static String textOf(Path file) {
    try (InputStream stream = Files.newInputStream(file)) {
      byte[] bytes = stream.readNBytes(BYTES_MAX + 1);
      if (bytes.length > BYTES_MAX) {
        throw new Refusal(file + " is too large for a sheet of readings");
      }
      return StandardCharsets.UTF_8.newDecoder().decode(ByteBuffer.wrap(bytes)).toString();
    } catch (CharacterCodingException notUtf8) {
      throw new Refusal(file + " is not UTF-8; save the sheet as CSV in UTF-8");
    } catch (IOException unreadable) {
      throw new Refusal("cannot read " + file + "; see that the file is there");
    }
  }

  /** Refuses work in nests whose gauge was found out of control. */
  static void requireInControl(LedgerArchive archive, List<String> nests) {
    GaugeDoor.refusal(GaugeRecord.of(archive), nests)
        .ifPresent(
            why -> {
              throw new Refusal(why);
            });
  }

  /** A virtual reference magnet: charged, and knocked down to what its certificate says. */
  static HandOrder order(RigConfig rig, ReferenceConfig reference, long seed) {
    NestConfig nest = rig.nest(reference.nest());
    Shape shape =
        nest.shape().equals("rod")
            ? new Shape.Rod(Length.ofMm(5.1), Length.ofMm(18))
            : new Shape.Bar(
                Length.ofMm(58), Length.ofMm(11.5), Length.ofMm(2.9), Shape.Axis.THROUGH_WIDTH);
    double least = 0;
    double most = FIELD_MAX;
    if (reads(rig, piece(reference, shape, 0), nest) < Math.abs(reference.value().tesla())) {
      throw new Refusal(
          "the virtual rig has no magnet that reads "
              + reference.value().inGauss()
              + " in the "
              + nest.name()
              + "; write a smaller value into the [[reference]]");
    }
    for (int halving = 0; halving < HALVINGS; halving++) {
      double middle = (least + most) / 2;
      boolean strong =
          reads(rig, piece(reference, shape, middle), nest) > Math.abs(reference.value().tesla());
      least = strong ? middle : least;
      most = strong ? most : middle;
    }
    // It is read as found and, if need be, as left.
    StockPiece piece = piece(reference, shape, least);
    return new HandOrder(
        nest.name(), seed, List.of(piece, piece), List.of(FIELD_MAX), Math.round(18e3));
  }

  private static StockPiece piece(ReferenceConfig reference, Shape shape, double downAperM) {
    boolean north = reference.value().tesla() > 0;
    StockPiece.EarlierPulse down =
        new StockPiece.EarlierPulse(north ? 0 : downAperM, north ? downAperM : 0, north);
    return new StockPiece(
        ALLOY,
        shape,
        north,
        true,
        reference.name().hashCode(),
        reference.nest().hashCode(),
        reference.nest(),
        downAperM == 0 ? List.of() : List.of(down));
  }

  private static double reads(RigConfig rig, StockPiece piece, NestConfig nest) {
    double tesla =
        StockPiece.made(List.of(piece), Lots.of(rig))
            .get(0)
            .magnet()
            .faceFieldTesla(nest.standOff().metres(), ROOM_KELVIN, 0);
    // Along the charge: what is knocked down beyond zero reads less, not more.
    return piece.northUp() ? tesla : -tesla;
  }
}
