//! A bucket of an S3 store as a place of deposit.

use std::collections::BTreeMap;
use std::str::FromStr;

use futures_util::StreamExt;
use object_store::aws::{AmazonS3, AmazonS3Builder, AmazonS3ConfigKey};
use object_store::path::Path as Key;
use object_store::{HeaderMap, ObjectStore, ObjectStoreExt, PutMode, PutPayload};
use sha2::{Digest, Sha256};

use super::address::is_loopback;
use super::line::{Careful, Line, retries};
use super::s3_parts::{PART_OCTETS, send_in_parts};
use super::{Bundle, Credentials, DepositError, Memory, Place, Watch};
use crate::disk::{Sha256Digest, read_limited};

/// A bucket, and what lay in it under the prefix when it was opened.
pub(super) struct Bucket {
    store: AmazonS3,
    line: Line,
    prefix: String,
    there: BTreeMap<String, u64>,
}

impl Bucket {
    /// Opens a bucket by listing it, so that one that is not there is told at once.
    pub fn open(
        bucket: &str,
        prefix: &str,
        credentials: &Credentials,
    ) -> Result<Self, DepositError> {
        let place = match prefix {
            "" => format!("s3://{bucket}"),
            prefix => format!("s3://{bucket}/{prefix}"),
        };
        let id = credentials.get("AWS_ACCESS_KEY_ID");
        let (Some(id), Some(secret)) = (id, credentials.get("AWS_SECRET_ACCESS_KEY")) else {
            return Err(DepositError::Refused {
                place,
                why: "AWS_ACCESS_KEY_ID and AWS_SECRET_ACCESS_KEY are not both set".into(),
            });
        };
        let mut secrets = vec![secret.clone(), id.clone()];
        secrets.extend(credentials.get("AWS_SESSION_TOKEN").cloned());
        let line = Line::new(place, secrets)?;
        let mut builder = AmazonS3Builder::new()
            .with_bucket_name(bucket)
            .with_retry(retries())
            .with_http_connector(Careful(HeaderMap::new()));
        for (name, value) in credentials {
            // Variables for other programs are none of ours.
            if let Ok(key) = AmazonS3ConfigKey::from_str(&name.to_ascii_lowercase()) {
                builder = builder.with_config(key, value);
            }
        }
        let endpoint = credentials
            .get("AWS_ENDPOINT_URL_S3")
            .or_else(|| credentials.get("AWS_ENDPOINT_URL"));
        if let Some(endpoint) = endpoint {
            builder = builder.with_endpoint(endpoint);
            let host = endpoint
                .strip_prefix("http://")
                .and_then(|rest| rest.split('/').next());
            if host.is_some_and(is_loopback) {
                builder = builder.with_allow_http(true);
            }
        }
        let store = builder
            .build()
            .map_err(|e| line.error("the settings", &e))?;
        let mut bucket = Self {
            store,
            line,
            prefix: prefix.to_owned(),
            there: BTreeMap::new(),
        };
        bucket.there = bucket.list()?;
        Ok(bucket)
    }

    fn list(&self) -> Result<BTreeMap<String, u64>, DepositError> {
        let prefix = (!self.prefix.is_empty())
            .then(|| self.key_of(""))
            .transpose()?;
        let quiet = Watch {
            progress: &|_| {},
            cancelled: &|| false,
        };
        let listed = self.line.patiently("listing", quiet, || {
            self.store.list_with_delimiter(prefix.as_ref())
        });
        let listed = self.line.wait(listed)?;
        Ok(listed
            .objects
            .into_iter()
            .filter_map(|object| Some((object.location.filename()?.to_owned(), object.size)))
            .collect())
    }

    fn key_of(&self, name: &str) -> Result<Key, DepositError> {
        let key = match self.prefix.as_str() {
            "" => name.to_owned(),
            prefix => format!("{prefix}/{name}"),
        };
        Key::parse(key.trim_end_matches('/')).map_err(|error| DepositError::Address {
            address: self.line.place.clone(),
            why: error.to_string(),
        })
    }

    async fn send_at_once(
        &self,
        key: &Key,
        bundle: &Bundle,
        watch: Watch<'_>,
    ) -> Result<(), DepositError> {
        let octets = PutPayload::from(read_limited(&bundle.path, PART_OCTETS)?);
        self.line
            .patiently(&bundle.name, watch, || {
                self.store
                    .put_opts(key, octets.clone(), PutMode::Create.into())
            })
            .await?;
        (watch.progress)(bundle.octets);
        Ok(())
    }
}

impl Place for Bucket {
    fn octets_of(&self, name: &str) -> Result<Option<u64>, DepositError> {
        Ok(self.there.get(name).copied())
    }

    fn send(
        &self,
        bundle: &Bundle,
        memory: &mut Memory,
        watch: Watch<'_>,
    ) -> Result<(), DepositError> {
        let key = self.key_of(&bundle.name)?;
        let sent = self.line.wait(async {
            if bundle.octets <= PART_OCTETS {
                self.send_at_once(&key, bundle, watch).await
            } else {
                send_in_parts(&self.store, &self.line, &key, bundle, memory, watch).await
            }
        });
        match sent {
            // An answer that was lost on the line makes a second try meet the first one's object.
            Err(DepositError::OtherFile { name, place }) => {
                if self.digest_of(&bundle.name, watch)? == bundle.sha256 {
                    return Ok(());
                }
                Err(DepositError::OtherFile { name, place })
            }
            other => other,
        }
    }

    fn digest_of(&self, name: &str, watch: Watch<'_>) -> Result<Sha256Digest, DepositError> {
        let key = self.key_of(name)?;
        self.line
            .wait(read_back(&self.store, &self.line, &key, name, watch))
    }
}

/// Reads an object and gives its digest.
pub(super) async fn read_back(
    store: &dyn ObjectStore,
    line: &Line,
    key: &Key,
    name: &str,
    watch: Watch<'_>,
) -> Result<Sha256Digest, DepositError> {
    line.patiently(name, watch, || async {
        let mut octets = store.get(key).await?.into_stream();
        let mut sha256 = Sha256::new();
        while let Some(chunk) = octets.next().await {
            sha256.update(&chunk?);
            if (watch.cancelled)() {
                break;
            }
        }
        Ok(Sha256Digest(sha256.finalize().into()))
    })
    .await
    .and_then(|digest| {
        if (watch.cancelled)() {
            Err(DepositError::Stopped)
        } else {
            Ok(digest)
        }
    })
}
