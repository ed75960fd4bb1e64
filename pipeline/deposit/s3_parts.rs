//! Sending a large bundle in parts. What has arrived is remembered after each part, so that a run that was stopped
//! or killed goes on with the same sending the next time, and nothing of it is left lying at the store.

use std::collections::BTreeMap;
use std::io::{Read, Seek, SeekFrom};

use futures_util::{StreamExt, stream};
use object_store::PutPayload;
use object_store::aws::AmazonS3;
use object_store::multipart::{MultipartStore, PartId};
use object_store::path::Path as Key;

use super::line::{Line, is_answer};
use super::{Bundle, DepositError, Memory, UnderWay, Watch};
use crate::disk::{DiskError, open_file};

/// The least size of a part, and the largest bundle that is sent at once, in octets. The stores want at least
/// 5 MiB for every part but the last.
pub(super) const PART_OCTETS: u64 = 8 << 20;
/// The stores take at most 10,000 parts.
const MOST_PARTS: u64 = 9_000;
/// Parts on the line at a time.
const ABREAST: usize = 3;

/// The size of each part of so many octets.
fn part_octets(octets: u64) -> u64 {
    let least = octets.div_ceil(MOST_PARTS);
    least
        .div_ceil(1 << 20)
        .saturating_mul(1 << 20)
        .max(PART_OCTETS)
}

/// Sends what has not arrived yet, and gives the object its name if the name is free.
pub(super) async fn send_in_parts(
    store: &AmazonS3,
    line: &Line,
    key: &Key,
    bundle: &Bundle,
    memory: &mut Memory,
    watch: Watch<'_>,
) -> Result<(), DepositError> {
    let size = part_octets(bundle.octets);
    let known = memory
        .under_way(&bundle.name)
        .filter(|far| far.sha256 == bundle.sha256 && far.part_octets == size)
        .cloned();
    if let Some(far) = known {
        match go_on(store, line, key, bundle, memory, far, watch).await {
            // The store has forgotten the sending, as it may after some days, or does not know what to say of it.
            Err(DepositError::NotThere { .. }) => memory.set_under_way(&bundle.name, None)?,
            Err(DepositError::Line { why, .. }) if is_answer(&why) => {
                memory.set_under_way(&bundle.name, None)?;
            }
            other => return other,
        }
    }
    let upload = line
        .patiently(&bundle.name, watch, || store.create_multipart(key))
        .await?;
    let far = UnderWay {
        sha256: bundle.sha256,
        upload,
        part_octets: size,
        parts: BTreeMap::new(),
    };
    memory.set_under_way(&bundle.name, Some(far.clone()))?;
    go_on(store, line, key, bundle, memory, far, watch).await
}

async fn go_on(
    store: &AmazonS3,
    line: &Line,
    key: &Key,
    bundle: &Bundle,
    memory: &mut Memory,
    mut far: UnderWay,
    watch: Watch<'_>,
) -> Result<(), DepositError> {
    let count = u32::try_from(bundle.octets.div_ceil(far.part_octets)).unwrap_or(u32::MAX);
    let upload = far.upload.clone();
    let size = far.part_octets;
    let missing: Vec<u32> = (0..count).filter(|n| !far.parts.contains_key(n)).collect();
    (watch.progress)(size * far.parts.len() as u64);
    let mut sent = stream::iter(missing)
        .map(|number| {
            let upload = &upload;
            async move {
                let octets = PutPayload::from(part(bundle, number, size)?);
                let length = octets.content_length() as u64;
                let sent = line
                    .patiently(&bundle.name, watch, || {
                        store.put_part(key, upload, number as usize, octets.clone())
                    })
                    .await?;
                Ok::<_, DepositError>((number, sent.content_id, length))
            }
        })
        .buffered(ABREAST);
    while let Some(part) = sent.next().await {
        let (number, called, length) = part?;
        far.parts.insert(number, called);
        memory.set_under_way(&bundle.name, Some(far.clone()))?;
        (watch.progress)(length);
    }
    drop(sent);
    let parts: Vec<PartId> = far
        .parts
        .values()
        .map(|called| PartId {
            content_id: called.clone(),
        })
        .collect();
    let ended = line
        .patiently(&bundle.name, watch, || {
            store.complete_multipart(key, &upload, parts.clone())
        })
        .await;
    if let Err(DepositError::OtherFile { .. }) = &ended {
        // The parts would lie there, and cost, for ever; that they can't be taken away is no news.
        let _ = store.abort_multipart(key, &upload).await;
        memory.set_under_way(&bundle.name, None)?;
    }
    ended.map(|_| ())
}

fn part(bundle: &Bundle, number: u32, size: u64) -> Result<Vec<u8>, DepositError> {
    let failed = |e| DiskError::from_io(&bundle.path, "reading it", e);
    let (mut file, _) = open_file(&bundle.path)?;
    let start = u64::from(number) * size;
    file.seek(SeekFrom::Start(start)).map_err(failed)?;
    let length = size.min(bundle.octets.saturating_sub(start));
    let mut octets = Vec::with_capacity(usize::try_from(length).unwrap_or(0));
    file.take(length).read_to_end(&mut octets).map_err(failed)?;
    Ok(octets)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_bundle_has_more_parts_than_a_store_takes() {
        // Source, from memory: Amazon S3, multipart upload limits: 5 MiB to 5 GiB a part, 10,000 parts, 5 TiB.
        for octets in [PART_OCTETS + 1, 20 << 30, 5 << 40] {
            let size = part_octets(octets);
            assert!(octets.div_ceil(size) <= 10_000, "{octets}");
            assert!((5 << 20..=5 << 30).contains(&size), "{octets}");
        }
        assert_eq!(part_octets(9 << 20), PART_OCTETS);
    }
}
