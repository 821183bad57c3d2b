package lodestep.ledger;

import java.security.DigestException;
import java.security.MessageDigest;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import lodestep.port.Bytes;
import lodestep.port.ChainEnd;
import lodestep.port.EventIndex;
import lodestep.port.Hash;

/**
 * The quick half of a {@link Proof}, for rows where they lie. It says yes only to a row to which a
 * proof that has come as far would say yes; after a no that proof has to be asked, which also finds
 * the words. One thread.
 */
public final class RowProof {

  private final MessageDigest digest = Chain.digest();
  private final List<ChainEnd> anchors;

  /** The hash before, and behind it the row's own bytes: hashed in one go. */
  private byte[] chained = new byte[1 << 12];

  private final byte[] made = new byte[Hash.SIZE_BYTES];
  private long number;
  private int anchor;

  /**
   * @param start the event before the first row, taken as it is
   * @param anchors what was noted elsewhere of events after it
   */
  public RowProof(ChainEnd start, List<ChainEnd> anchors) {
    this.number = start.number();
    this.anchors = anchors.stream().sorted(Comparator.comparingLong(ChainEnd::number)).toList();
    System.arraycopy(start.hash().bytes().toArray(), 0, chained, 0, Hash.SIZE_BYTES);
  }

  /**
   * Whether this row is surely the next event as it was written. The array must hold {@value
   * Hash#SIZE_BYTES} bytes from where the hash begins.
   */
  public boolean surely(byte[] bytes, StoredRow row) {
    number++;
    return row.number() == number
        && reads(bytes, row)
        && follows(bytes, row.payload(), row.hash())
        && asNoted();
  }

  private boolean reads(byte[] bytes, StoredRow row) {
    PayloadForm form = PayloadForm.of(bytes, row.kind(), row.kindEnd());
    if (form == null || form.creates() != (number == 1)) {
      return false;
    }
    return form.surely(bytes, row.payload(), row.hash(), number, row.magnet(), row.wallEpochMs())
        || decodes(bytes, row, form.kind());
  }

  /** For the few whose texts hold more than plain letters. */
  private boolean decodes(byte[] bytes, StoredRow row, String kind) {
    Bytes payload = Bytes.copyOf(Arrays.copyOfRange(bytes, row.payload(), row.hash()));
    try {
      return EventCodec.index(EventCodec.decode(payload))
          .equals(new EventIndex(number, kind, row.magnet(), row.wallEpochMs()));
    } catch (IllegalArgumentException unreadable) {
      return false;
    }
  }

  private boolean follows(byte[] bytes, int from, int to) {
    int size = Hash.SIZE_BYTES + to - from;
    if (size > chained.length) {
      chained = Arrays.copyOf(chained, 2 * size);
    }
    System.arraycopy(bytes, from, chained, Hash.SIZE_BYTES, to - from);
    digest.update(chained, 0, size);
    try {
      digest.digest(made, 0, Hash.SIZE_BYTES);
    } catch (DigestException tooShort) {
      throw new IllegalStateException("a hash has " + Hash.SIZE_BYTES + " bytes", tooShort);
    }
    System.arraycopy(made, 0, chained, 0, Hash.SIZE_BYTES);
    return Arrays.equals(made, 0, Hash.SIZE_BYTES, bytes, to, to + Hash.SIZE_BYTES);
  }

  private boolean asNoted() {
    while (anchor < anchors.size() && anchors.get(anchor).number() <= number) {
      ChainEnd noted = anchors.get(anchor++);
      if (noted.number() == number && !noted.equals(end())) {
        return false;
      }
    }
    return true;
  }

  /** The last row that was taken, where it was surely right. */
  public ChainEnd end() {
    return new ChainEnd(number, new Hash(Bytes.copyOf(Arrays.copyOf(chained, Hash.SIZE_BYTES))));
  }
}
