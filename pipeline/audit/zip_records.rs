//! The records of a zip file, field by field, as its format lays them down (the ZIP file format
//! specification of PKWARE, APPNOTE section 4.3; the same layout is in ISO/IEC 21320-1).
//!
//! Only reading of fixed layouts is here; whether the records agree is `zip_layout`'s to say.

pub(super) const LOCAL: u32 = 0x0403_4b50;
pub(super) const CENTRAL: u32 = 0x0201_4b50;
pub(super) const END: u32 = 0x0605_4b50;
pub(super) const END_64: u32 = 0x0606_4b50;
pub(super) const LOCATOR_64: u32 = 0x0706_4b50;
pub(super) const DESCRIPTOR: u32 = 0x0807_4b50;

pub(super) const LOCAL_LEN: u64 = 30;
pub(super) const END_LEN: u64 = 22;
pub(super) const LOCATOR_64_LEN: u64 = 20;
pub(super) const END_64_LEN: u64 = 56;

/// The flag that sizes and CRC follow the data.
pub(super) const FLAG_DESCRIPTOR: u16 = 1 << 3;
/// The flag that the name is UTF-8.
pub(super) const FLAG_UTF8: u16 = 1 << 11;
/// The flags of every kind of encryption.
pub(super) const FLAGS_ENCRYPTED: u16 = 1 | 1 << 6 | 1 << 13;
/// The flags with a known, harmless meaning.
pub(super) const FLAGS_KNOWN: u16 = 0b1110 | FLAG_UTF8;

/// Little-endian fields, one after another.
pub(super) struct Fields<'a>(pub(super) &'a [u8]);

impl<'a> Fields<'a> {
    pub(super) fn take(&mut self, octets: usize) -> Option<&'a [u8]> {
        let (taken, rest) = self.0.split_at_checked(octets)?;
        self.0 = rest;
        Some(taken)
    }

    pub(super) fn u16(&mut self) -> Option<u16> {
        Some(u16::from_le_bytes(self.take(2)?.try_into().ok()?))
    }

    pub(super) fn u32(&mut self) -> Option<u32> {
        Some(u32::from_le_bytes(self.take(4)?.try_into().ok()?))
    }

    pub(super) fn u64(&mut self) -> Option<u64> {
        Some(u64::from_le_bytes(self.take(8)?.try_into().ok()?))
    }
}

/// What a local and a central header have in common.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Common {
    pub(super) needed: u16,
    pub(super) flags: u16,
    pub(super) method: u16,
    /// Time and date as DOS keeps them, not looked into.
    pub(super) time: (u16, u16),
    pub(super) crc: u32,
    pub(super) compressed: u64,
    pub(super) size: u64,
    pub(super) name: Vec<u8>,
    pub(super) extra: Vec<u8>,
}

/// One entry of the central directory.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Central {
    pub(super) common: Common,
    pub(super) made_by: u16,
    pub(super) disk: u32,
    pub(super) internal: u16,
    pub(super) external: u32,
    pub(super) offset: u64,
}

/// The end record, or its 64-bit form.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct End {
    pub(super) disk: u32,
    pub(super) directory_disk: u32,
    pub(super) entries_here: u64,
    pub(super) entries: u64,
    pub(super) size: u64,
    pub(super) offset: u64,
    pub(super) comment: u16,
}

struct Sizes {
    crc: u32,
    compressed: u32,
    size: u32,
}

impl Common {
    /// Puts in the 64-bit sizes of the extra field (identifier 1) where the short fields are full.
    /// Gives what is left of that field: offset and disk in a central header.
    fn new<'x>(
        head: (u16, u16, u16, (u16, u16)),
        sizes: &Sizes,
        name: &[u8],
        extra: &'x [u8],
    ) -> Option<(Self, Fields<'x>)> {
        let mut wide = Fields(extra_field(extra, 1).unwrap_or(&[]));
        let mut widened = |short: u32| match short {
            u32::MAX => wide.u64(),
            short => Some(u64::from(short)),
        };
        let size = widened(sizes.size)?;
        let compressed = widened(sizes.compressed)?;
        let common = Self {
            needed: head.0,
            flags: head.1,
            method: head.2,
            time: head.3,
            crc: sizes.crc,
            compressed,
            size,
            name: name.to_vec(),
            extra: extra.to_vec(),
        };
        Some((common, wide))
    }

    /// Whether the sizes stand in the 64-bit extra field.
    pub(super) fn is_wide(&self) -> bool {
        extra_field(&self.extra, 1).is_some()
    }
}

/// Reads a central header (without its signature, already taken) and moves past it.
pub(super) fn central(fields: &mut Fields<'_>) -> Option<Central> {
    let made_by = fields.u16()?;
    let head = (
        fields.u16()?,
        fields.u16()?,
        fields.u16()?,
        (fields.u16()?, fields.u16()?),
    );
    let sizes = Sizes {
        crc: fields.u32()?,
        compressed: fields.u32()?,
        size: fields.u32()?,
    };
    let lengths = (fields.u16()?, fields.u16()?, fields.u16()?);
    let (disk, internal) = (fields.u16()?, fields.u16()?);
    let (external, offset) = (fields.u32()?, fields.u32()?);
    let name = fields.take(lengths.0.into())?;
    let extra = fields.take(lengths.1.into())?;
    fields.take(lengths.2.into())?;
    let (common, mut wide) = Common::new(head, &sizes, name, extra)?;
    let offset = if offset == u32::MAX {
        wide.u64()?
    } else {
        u64::from(offset)
    };
    let disk = if disk == u16::MAX {
        wide.u32()?
    } else {
        u32::from(disk)
    };
    Some(Central {
        common,
        made_by,
        disk,
        internal,
        external,
        offset,
    })
}

/// The lengths of name and extra field in the fixed part of a local header, signature included.
pub(super) fn local_lengths(fixed: &[u8]) -> Option<(u16, u16)> {
    let mut fields = Fields(fixed);
    if fields.u32()? != LOCAL {
        return None;
    }
    fields.take(22)?;
    Some((fields.u16()?, fields.u16()?))
}

/// Reads a whole local header, signature included.
pub(super) fn local(octets: &[u8]) -> Option<Common> {
    let mut fields = Fields(octets);
    fields.take(4)?;
    let head = (
        fields.u16()?,
        fields.u16()?,
        fields.u16()?,
        (fields.u16()?, fields.u16()?),
    );
    let sizes = Sizes {
        crc: fields.u32()?,
        compressed: fields.u32()?,
        size: fields.u32()?,
    };
    let lengths = (fields.u16()?, fields.u16()?);
    let name = fields.take(lengths.0.into())?;
    let extra = fields.take(lengths.1.into())?;
    Common::new(head, &sizes, name, extra).map(|(common, _)| common)
}

/// Reads an end record, signature included.
pub(super) fn end(octets: &[u8]) -> Option<End> {
    let mut fields = Fields(octets);
    if fields.u32()? != END {
        return None;
    }
    Some(End {
        disk: fields.u16()?.into(),
        directory_disk: fields.u16()?.into(),
        entries_here: fields.u16()?.into(),
        entries: fields.u16()?.into(),
        size: fields.u32()?.into(),
        offset: fields.u32()?.into(),
        comment: fields.u16()?,
    })
}

/// Reads the 64-bit end record, signature included; also gives its whole length.
pub(super) fn end_64(octets: &[u8]) -> Option<(End, u64)> {
    let mut fields = Fields(octets);
    if fields.u32()? != END_64 {
        return None;
    }
    let length = fields.u64()?.checked_add(12)?;
    fields.take(4)?;
    let (disk, directory_disk) = (fields.u32()?, fields.u32()?);
    let (entries_here, entries) = (fields.u64()?, fields.u64()?);
    let (size, offset) = (fields.u64()?, fields.u64()?);
    let end = End {
        disk,
        directory_disk,
        entries_here,
        entries,
        size,
        offset,
        comment: 0,
    };
    Some((end, length))
}

/// The octets of one extra field, or nothing when it is not there or the fields are malformed.
pub(super) fn extra_field(extra: &[u8], wanted: u16) -> Option<&[u8]> {
    let mut fields = Fields(extra);
    loop {
        let (identifier, length) = (fields.u16()?, fields.u16()?);
        let content = fields.take(length.into())?;
        if identifier == wanted {
            return Some(content);
        }
    }
}

/// Whether the extra fields fill their space exactly.
pub(super) fn extra_is_whole(extra: &[u8]) -> bool {
    let mut fields = Fields(extra);
    while !fields.0.is_empty() {
        let lengths = fields.u16().zip(fields.u16());
        if lengths
            .and_then(|(_, length)| fields.take(length.into()))
            .is_none()
        {
            return false;
        }
    }
    true
}
